import { parseMediaWords } from '../../ethernet/media-words.ts';
import { found, foundOr, gap, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { activeMedium } from './ifconfig-media.ts';
import type { LineState } from './line-facts.ts';
import { type LinePhysics, noModuleFacts } from './port-physics.ts';

const unsaid = gap('unsupported', 'macOS does not say');
const notCounted = gap('unsupported', 'macOS does not count it');

/** Facts of a port of a macOS host that tell why its line is slow. */
export function macosPhysics(port: Ifconfig, state: LineState): LinePhysics {
  const { operUp } = state;
  const down =
    operUp !== undefined && 'value' in operUp && !operUp.value ? gap('down', 'no link') : undefined;
  const active = activeMedium(port.media ?? '');
  const options = new Set((/<([^>]*)>/.exec(active)?.[1] ?? '').split(/[,\s]+/));
  const physical = state.kind === 'physical';
  // An option that is not printed may be one that the driver never prints.
  const option = (name: string): Settled<boolean> =>
    physical && options.has(name) ? found(true, `ifconfig media ${name}`) : unsaid;
  const phy = physical ? parseMediaWords(active)?.phy : undefined;
  return {
    phyText: down ?? foundOr(phy, 'ifconfig media', unsaid),
    ...noModuleFacts(unsaid),
    pauseRx: down ?? option('flow-control'),
    pauseTx: down ?? option('flow-control'),
    rxPauseFrames: notCounted,
    txPauseFrames: notCounted,
    eeeEnabled: down ?? option('energy-efficient-ethernet'),
    eeeActive: down ?? option('energy-efficient-ethernet'),
    fecText: unsaid,
    partnerAutoNegotiation: unsaid,
    linkDownEvents: notCounted,
    lateCollisions: notCounted,
    rxSymbolErrors: notCounted,
  };
}
