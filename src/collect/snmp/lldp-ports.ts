import type { NeighbourIdKind } from '../../facts/survey.ts';
import type { BridgePorts } from './bridge-ports.ts';
import type { Walk } from './bulk-table.ts';
import type { KnownPort, KnownPorts } from './known-ports.ts';
import { lldpIdentity, portKinds } from './lldp-identity.ts';
import { lldpObjects } from './lldp-objects.ts';
import { cellOf } from './table-cells.ts';
import { integerOf, octetsOf, type Read, textOf } from './values.ts';

/** Finds the port that an agent of LLDP-MIB gives a local number. */
export type LocalPort = (localPort: number) => KnownPort | undefined;

/**
 * The local port number of LLDP-MIB is no ifIndex: on a bridge it is the number of the bridge's
 * port, and agents differ. What the agent says of the port decides first: its identifier, then its
 * description; the number only where neither names one port.
 */
export function lldpPorts(walk: Walk, ports: KnownPorts, bridge: Read<BridgePorts>): LocalPort {
  const { local } = lldpObjects;
  return (localPort) => {
    const index = String(localPort);
    const subtype = cellOf(walk, local.kind, index, (cell, what) => integerOf(cell, what, [1, 7]));
    const octets = cellOf(walk, local.id, index, octetsOf).value;
    const text = cellOf(walk, local.text, index, textOf).value ?? '';
    const kind = subtype.value === undefined ? 'other' : portKinds[subtype.value - 1];
    const id = octets === undefined ? undefined : lldpIdentity(octets, kind ?? 'other');
    return (
      (id && byIdentity(ports, id.text, id.kind)) ??
      named(ports, text) ??
      byNumber(ports, localPort, bridge)
    );
  };
}

function byIdentity(ports: KnownPorts, text: string, kind: NeighbourIdKind): KnownPort | undefined {
  if (kind === 'mac') return only(ports, ({ mac }) => mac === text);
  if (kind === 'alias') return only(ports, ({ ifAlias }) => ifAlias === text) ?? named(ports, text);
  return named(ports, text);
}

function named(ports: KnownPorts, text: string): KnownPort | undefined {
  if (text === '') return undefined;
  return (
    only(ports, ({ ifName, name }) => ifName === text || name === text) ??
    only(ports, ({ ifDescr }) => ifDescr === text)
  );
}

/** On a bridge a number that its map does not know names no port. */
function byNumber(ports: KnownPorts, localPort: number, bridge: Read<BridgePorts>) {
  const ifIndex = bridge.value === undefined ? localPort : bridge.value.get(localPort);
  return ifIndex === undefined ? undefined : ports.get(ifIndex);
}

function only(ports: KnownPorts, fits: (port: KnownPort) => boolean): KnownPort | undefined {
  const [found, ...others] = [...ports.values()].filter(fits);
  return others.length === 0 ? found : undefined;
}
