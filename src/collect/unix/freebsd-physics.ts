import { mediaPhysics } from './bsd-physics.ts';
import { cleaned, foundOr, gap, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import type { IfconfigModule } from './ifconfig-module.ts';
import type { LineState } from './line-facts.ts';
import { type LinePhysics, noModuleFacts } from './port-physics.ts';

/** Facts of a port of a FreeBSD host that tell why its line is slow. */
export function freebsdPhysics(port: Ifconfig, state: LineState): LinePhysics {
  const { facts, option } = mediaPhysics(port.media, state, 'FreeBSD');
  return {
    ...facts,
    ...moduleFacts(port.module),
    pauseRx: option('rxpause'),
    pauseTx: option('txpause'),
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
