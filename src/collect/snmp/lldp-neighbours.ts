import { byName } from '../../facts/order.ts';
import type { NeighbourReading } from '../../facts/survey.ts';
import type { BridgePorts } from './bridge-ports.ts';
import { type Listed, namelessGap } from './forwarding.ts';
import { addressOfOctets, indexParts } from './index-parts.ts';
import type { KnownPorts } from './known-ports.ts';
import { lldpExtensions } from './lldp-extensions.ts';
import {
  chassisKinds,
  type LldpIdentity,
  lldpCapabilities,
  lldpIdentity,
  portKinds,
} from './lldp-identity.ts';
import { lostOfNeighbours } from './lldp-lost.ts';
import { type LldpObjects, lldpObjects, lldpV2Objects } from './lldp-objects.ts';
import { lldpPorts } from './lldp-ports.ts';
import { missing } from './port-cells.ts';
import type { SnmpObject } from './snmp-object.ts';
import { cellOf } from './table-cells.ts';
import type { TopicWalk } from './topic-walk.ts';
import { integerOf, octetsOf, type Read, textOf } from './values.ts';

/** Addresses of one neighbour that are told. */
const addressesMax = 16;

/**
 * The neighbours that an agent has heard by LLDP, of its LLDP-MIB, else of its LLDP-V2-MIB. An
 * empty list where it has one of them and heard nobody.
 */
export function lldpNeighbours(
  walk: TopicWalk,
  { ports, bridge }: { readonly ports: KnownPorts; readonly bridge: Read<BridgePorts> },
): Listed<NeighbourReading> {
  const objects = [lldpObjects, lldpV2Objects].find(({ remote }) => hasRows(walk, remote.chassis));
  if (objects === undefined) return nobody(walk);
  const local = lldpPorts(walk, ports, bridge);
  const portOf = (number: number) =>
    objects.local === undefined ? ports.get(number) : local(number);
  const addresses = addressesByNeighbour(walk, objects);
  const list: NeighbourReading[] = [];
  let nameless = 0;
  for (const index of walk.columns.get(objects.remote.chassis.oid)?.cells.keys() ?? []) {
    const port = portOf(indexParts(index, objects.indexLength)?.[1] ?? 0);
    const neighbour = port && neighbourAt(walk, objects, { index, port: port.name });
    if (neighbour !== undefined) list.push({ ...neighbour, addresses: addresses.get(index) ?? [] });
    else if (port === undefined) nameless += 1;
  }
  list.sort(
    (a, b) => byName(a.port, b.port) || byName(a.chassis, b.chassis) || byName(a.portId, b.portId),
  );
  const lost = lostOfNeighbours(walk, objects);
  if (lost !== undefined) return { list, gap: lost };
  return nameless === 0 ? { list } : { list, gap: namelessGap(`${nameless} neighbours`) };
}

function hasRows(walk: TopicWalk, column: SnmpObject): boolean {
  return (walk.columns.get(column.oid)?.cells.size ?? 0) > 0;
}

function nobody(walk: TopicWalk): Listed<NeighbourReading> {
  const { chassis } = lldpObjects.remote;
  const walked = walk.columns.get(chassis.oid);
  const speaks = [lldpObjects, lldpV2Objects].some(({ presence }) => walk.served(presence));
  if (walked?.cut !== undefined || walk.failure !== undefined || !speaks) {
    const cut = walked?.cut ?? walk.failure;
    return { gap: missing(chassis, cut === undefined ? undefined : { cells: new Map(), cut }) };
  }
  return { list: [] };
}

function neighbourAt(
  walk: TopicWalk,
  objects: LldpObjects,
  { index, port }: { readonly index: string; readonly port: string },
): Omit<NeighbourReading, 'addresses'> | undefined {
  const { remote } = objects;
  const identity = (kind: SnmpObject, id: SnmpObject, kinds: typeof portKinds) => {
    const subtype = cellOf(walk, kind, index, (cell, what) => integerOf(cell, what, [1, 7])).value;
    const octets = cellOf(walk, id, index, octetsOf).value;
    if (octets === undefined) return undefined;
    return lldpIdentity(octets, kinds[(subtype ?? 7) - 1] ?? 'other');
  };
  const chassis = identity(remote.chassisKind, remote.chassis, chassisKinds);
  const own = identity(remote.portKind, remote.port, portKinds);
  if (!chassis?.text || !own?.text) return undefined;
  const text = (column: SnmpObject) => cellOf(walk, column, index, textOf).value ?? '';
  const [portText, systemName, systemText] = [
    text(remote.portText),
    text(remote.systemName),
    text(remote.systemText),
  ];
  const enabled = cellOf(walk, remote.capabilities, index, octetsOf).value;
  return {
    port,
    ...identityFacts(chassis, own),
    ...(portText === '' ? {} : { portText }),
    ...(systemName === '' ? {} : { systemName }),
    ...(systemText === '' ? {} : { systemText }),
    capabilities: enabled === undefined ? [] : lldpCapabilities(enabled),
    ...lldpExtensions(walk, objects, index),
  };
}

function identityFacts(chassis: LldpIdentity, port: LldpIdentity) {
  return {
    chassis: chassis.text,
    chassisKind: chassis.kind,
    portId: port.text,
    portIdKind: port.kind,
  };
}

/** The address is in the index: its family, its length, its octets. Some agents leave the length out. */
function addressesByNeighbour(
  walk: TopicWalk,
  { address, indexLength }: LldpObjects,
): ReadonlyMap<string, readonly string[]> {
  const byNeighbour = new Map<string, string[]>();
  for (const index of walk.columns.get(address.oid)?.cells.keys() ?? []) {
    const parts = index.split('.');
    const neighbour = parts.slice(0, indexLength).join('.');
    const [family = 0, ...rest] = parts.slice(indexLength).map(Number);
    const [length, ...octets] = rest;
    const literal =
      (length === octets.length ? addressOfOctets(family, octets) : undefined) ??
      addressOfOctets(family, rest);
    const known = byNeighbour.get(neighbour) ?? [];
    if (literal !== undefined && known.length < addressesMax && !known.includes(literal)) {
      byNeighbour.set(neighbour, [...known, literal]);
    }
  }
  return byNeighbour;
}
