import { byName } from '../facts/order.ts';
import { isPhysical } from '../site/port-kind.ts';
import { modesOf } from '../site/port-modes.ts';
import { type PortRef, portId } from '../site/site-index.ts';
import { oneDuplexAt } from './line-setting.ts';
import { halfDuplexMaxMbps } from './settle-link.ts';
import type { AskedLine, ChangeRemark } from './types.ts';

type Told = Pick<ChangeRemark, 'what' | 'remedy'>;

/** How the kinds are called that run over other ports. */
const lineless: ReadonlyMap<string, string> = new Map([
  ['bond', 'an aggregate'],
  ['vlan', 'a VLAN interface'],
  ['bridge', 'a bridge'],
]);

/** Why nothing of a line can be set on a port; undefined: it may have a line of its own. */
export function noLineRefusal({ node, survey }: PortRef): Told | undefined {
  const { kind, lowerPorts = [] } = survey?.facts ?? {};
  if (kind === undefined || isPhysical({ kind })) return undefined;
  const word = lineless.get(kind) ?? `a port without hardware of its own (${kind})`;
  const below = lowerPorts.toSorted(byName).map((name) => portId(node, name));
  return {
    what: `has no speed, duplex or negotiation of its own to set: it is ${word}`,
    remedy: `set ${below.length === 0 ? 'the ports that it runs over' : below.join(', ')} instead`,
  };
}

/** Why a port cannot run in the duplex that is asked of it; undefined: nothing speaks against it. */
export function duplexRefusal(ref: PortRef, line: AskedLine): Told | undefined {
  const { duplex, negotiates = ref.survey?.facts.autoNegotiation } = line;
  if (duplex === undefined) return undefined;
  // A port that negotiates may come to another speed, at which it has that duplex.
  const speedMbps =
    line.speedMbps ?? (negotiates === false ? ref.survey?.facts.speedMbps : undefined);
  if (speedMbps === undefined) return atNoSpeed(ref, duplex);
  if (duplex === 'half' && speedMbps > halfDuplexMaxMbps)
    return {
      what: `cannot run in half duplex at ${speedMbps} Mb/s: there is none above ${halfDuplexMaxMbps} Mb/s (IEEE 802.3, clauses 44 and 125)`,
      remedy: 'leave it in full duplex, or set a lower speed with it that both ends can do',
    };
  const { capable } = modesOf(ref);
  const only = capable && oneDuplexAt(capable).get(speedMbps);
  return only === undefined || only === duplex
    ? undefined
    : {
        what: `cannot run in ${duplex} duplex at ${speedMbps} Mb/s: it can do that speed in ${only} duplex only`,
        remedy: `leave it in ${only} duplex, or use another port`,
      };
}

function atNoSpeed(ref: PortRef, duplex: 'full' | 'half'): Told | undefined {
  const { capable } = modesOf(ref);
  if (capable === undefined || capable.aside.length > 0) return undefined;
  if (capable.modes.length === 0 || capable.modes.some((mode) => mode.duplex === duplex))
    return undefined;
  const other = duplex === 'full' ? 'half' : 'full';
  // A speed that the list has no name for is one above 1 Gb/s, and those are full duplex.
  if (duplex === 'full' && capable.silentMbps.length > 0) return undefined;
  return {
    what: `cannot run in ${duplex} duplex: it can do ${other} duplex only, at every speed`,
    remedy: `leave it in ${other} duplex, or use another port`,
  };
}
