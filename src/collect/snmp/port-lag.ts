import { type LacpOrder, lacpOrder, lacpStatesOf } from '../../ethernet/lacp-state.ts';
import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import type { Walk } from './bulk-table.ts';
import { type KnownPorts, numberIndex } from './known-ports.ts';
import { lagColumns } from './lag-objects.ts';
import { portsOfList } from './port-list.ts';
import { objectText } from './snmp-object.ts';
import { cellOf, rowsOf } from './table-cells.ts';
import { integerOf, macOf, octetsOf, type Read, unsupported } from './values.ts';

/** Source of each fact of aggregation. */
export const lagFactSources: Readonly<Record<string, string>> = {
  aggregate: objectText(lagColumns.dot3adAggPortAttachedAggID),
  aggregatorId: objectText(lagColumns.dot3adAggPortAttachedAggID),
  lacpActor: objectText(lagColumns.dot3adAggPortActorOperState),
  lacpPartner: objectText(lagColumns.dot3adAggPortPartnerOperState),
  lacpPartnerSystem: objectText(lagColumns.dot3adAggPortPartnerOperSystemID),
};

/** Facts of one port as a member of an aggregate. */
export function lagReader(
  walk: Walk,
  ports: KnownPorts,
): (ifIndex: number) => Readonly<Record<string, Read<FactValue>>> {
  const states = [lagColumns.dot3adAggPortActorOperState, lagColumns.dot3adAggPortPartnerOperState];
  const order = lacpOrder(
    states.flatMap((column) => rowsOf(walk, column, firstOctet).map(([, octet]) => octet)),
  );
  const listed = listedMembers(walk, ports);
  return (ifIndex) => {
    const index = String(ifIndex);
    const attached = aggregatorOf(walk, ifIndex, listed);
    const lacp = (column: (typeof states)[number]) =>
      statesOf(cellOf(walk, column, index, firstOctet), order);
    return {
      aggregatorId: attached,
      aggregate: nameOf(attached, ports),
      lacpActor: lacp(lagColumns.dot3adAggPortActorOperState),
      lacpPartner: lacp(lagColumns.dot3adAggPortPartnerOperState),
      lacpPartnerSystem: cellOf(walk, lagColumns.dot3adAggPortPartnerOperSystemID, index, macOf),
    };
  };
}

/** A port that stands alone is attached to nothing, or to itself. */
function aggregatorOf(
  walk: Walk,
  ifIndex: number,
  listed: ReadonlyMap<number, number>,
): Read<number> {
  const column = lagColumns.dot3adAggPortAttachedAggID;
  const attached = cellOf(walk, column, String(ifIndex), (cell, what) =>
    integerOf(cell, what, [0, 2 ** 31 - 1]),
  );
  const byList = listed.get(ifIndex);
  if (attached.gap !== undefined) return byList === undefined ? attached : { value: byList };
  if (attached.value !== 0 && attached.value !== ifIndex) return attached;
  return { gap: unsupported(`${column.name} is ${attached.value}: a member of none`) };
}

function nameOf(aggregator: Read<number>, ports: KnownPorts): Read<string> {
  if (aggregator.gap !== undefined) return aggregator;
  const name = ports.get(aggregator.value)?.name;
  return name === undefined
    ? { gap: unsupported(`aggregator ${aggregator.value} is in no table of ports`) }
    : { value: name };
}

function firstOctet(cell: Varbind, what: string): Read<number> {
  const octets = octetsOf(cell, what);
  if (octets.gap !== undefined) return octets;
  const [octet] = octets.value;
  return octet === undefined ? { gap: unsupported(`${what} is empty`) } : { value: octet };
}

const contradicts: Gap = {
  reason: 'doubtful',
  words: 'the LACP states of this agent contradict themselves in either order of their bits',
};

function statesOf(octet: Read<number>, order: LacpOrder | undefined): Read<readonly string[]> {
  if (octet.gap !== undefined) return octet;
  return order === undefined ? { gap: contradicts } : { value: lacpStatesOf(octet.value, order) };
}

/**
 * Aggregates by member, out of the lists that agents without a table of members have. Taken only
 * where every bit of a list is a port that the agent has.
 */
function listedMembers(walk: Walk, ports: KnownPorts): ReadonlyMap<number, number> {
  const members = new Map<number, number>();
  for (const [index, octets] of rowsOf(walk, lagColumns.dot3adAggPortListPorts, octetsOf)) {
    const aggregator = numberIndex(index);
    const listed = portsOfList(octets) ?? [];
    if (aggregator === undefined || !listed.every((port) => ports.has(port))) continue;
    for (const port of listed) members.set(port, aggregator);
  }
  return members;
}
