import { parseMediaWords } from '../../ethernet/media-words.ts';
import type { Gap } from '../../facts/gap.ts';
import { found, foundOr, gap, type Settled } from './draft.ts';
import { activeMedium, mediaOptions } from './ifconfig-media.ts';
import type { LineState } from './line-facts.ts';
import { type LinePhysics, noModuleFacts } from './port-physics.ts';

/** What `ifconfig` of the BSD family tells of a line, and nothing else that the system prints. */
export interface MediaPhysics {
  /** All facts; what `ifconfig media` does not say has its reason. */
  readonly facts: LinePhysics;
  /** Whether the medium in use has this option. */
  readonly option: (name: string) => Settled<boolean>;
}

/** Facts of a line by the words after `media:` of a host of the named system. */
export function mediaPhysics(
  media: string | undefined,
  { operUp, kind }: LineState,
  system: 'FreeBSD' | 'macOS',
): MediaPhysics {
  const unsaid = gap('unsupported', `${system} does not say`);
  const notCounted = gap('unsupported', `${system} does not count it`);
  const isDown = operUp !== undefined && 'value' in operUp && !operUp.value;
  const down: Gap | undefined = isDown ? gap('down', 'no link') : undefined;
  const active = activeMedium(media ?? '');
  const options = mediaOptions(active);
  const physical = kind === 'physical';
  const phy = physical ? parseMediaWords(active)?.phy : undefined;
  return {
    // An option that is not printed may be one that the driver never prints.
    option: (name) =>
      down ?? (physical && options.has(name) ? found(true, `ifconfig media ${name}`) : unsaid),
    facts: {
      phyText: down ?? foundOr(phy, 'ifconfig media', unsaid),
      ...noModuleFacts(unsaid),
      pauseRx: unsaid,
      pauseTx: unsaid,
      rxPauseFrames: notCounted,
      txPauseFrames: notCounted,
      eeeEnabled: unsaid,
      eeeActive: unsaid,
      fecText: unsaid,
      partnerAutoNegotiation: unsaid,
      linkDownEvents: notCounted,
      lateCollisions: notCounted,
      rxSymbolErrors: notCounted,
    },
  };
}
