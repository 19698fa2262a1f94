import { parseMediaWords } from '../../ethernet/media-words.ts';
import { cleaned, found, foundOr, gap, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { activeMedium } from './ifconfig-media.ts';
import type { IfconfigModule } from './ifconfig-module.ts';
import type { LineState } from './line-facts.ts';
import { type LinePhysics, noModuleFacts } from './port-physics.ts';

const unsaid = gap('unsupported', 'FreeBSD does not say');
const notCounted = gap('unsupported', 'FreeBSD does not count it');

/** Facts of a port of a FreeBSD host that tell why its line is slow. */
export function freebsdPhysics(port: Ifconfig, state: LineState): LinePhysics {
  const { operUp } = state;
  const down =
    operUp !== undefined && 'value' in operUp && !operUp.value ? gap('down', 'no link') : undefined;
  const active = activeMedium(port.media ?? '');
  const options = new Set((/<([^>]*)>/.exec(active)?.[1] ?? '').split(','));
  const physical = state.kind === 'physical';
  // An option that is not printed may be one that the driver never prints.
  const option = (name: string): Settled<boolean> =>
    physical && options.has(name) ? found(true, `ifconfig media ${name}`) : unsaid;
  const phy = physical ? parseMediaWords(active)?.phy : undefined;
  return {
    phyText: down ?? foundOr(phy, 'ifconfig media', unsaid),
    ...moduleFacts(port.module),
    pauseRx: down ?? option('rxpause'),
    pauseTx: down ?? option('txpause'),
    rxPauseFrames: notCounted,
    txPauseFrames: notCounted,
    eeeEnabled: unsaid,
    eeeActive: unsaid,
    fecText: unsaid,
    partnerAutoNegotiation: unsaid,
    linkDownEvents: notCounted,
    lateCollisions: notCounted,
    rxSymbolErrors: notCounted,
  };
}

function moduleFacts(module: IfconfigModule | undefined) {
  const none = gap('unsupported', 'ifconfig -v prints no module');
  if (module === undefined) return noModuleFacts(none);
  const light = (dbm: number | undefined, source: string): Settled<number> =>
    foundOr(dbm, source, gap('unsupported', 'ifconfig -v prints none of the module'));
  return {
    ...noModuleFacts(gap('unsupported', 'ifconfig -v prints no limits of the module')),
    moduleText: foundOr(cleaned(module.text), 'ifconfig -v plugged', none),
    rxPowerDbm: light(module.rxPowerDbm, 'ifconfig -v RX power'),
    txPowerDbm: light(module.txPowerDbm, 'ifconfig -v TX'),
    moduleTemperatureCelsius: light(module.temperatureCelsius, 'ifconfig -v module temperature'),
  };
}
