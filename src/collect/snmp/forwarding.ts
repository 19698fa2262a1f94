import type { Gap } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import type { ForwardingReading } from '../../facts/survey.ts';
import type { Varbind } from './agent-session.ts';
import { stationColumns } from './bridge-objects.ts';
import type { BridgePorts } from './bridge-ports.ts';
import type { Walk } from './bulk-table.ts';
import { indexParts, macOfParts } from './index-parts.ts';
import type { KnownPorts } from './known-ports.ts';
import { missing } from './port-cells.ts';
import { vlanOfIndex } from './port-vlans.ts';
import { cellOf, lostIn, rowsOf } from './table-cells.ts';
import { integerOf, type Read } from './values.ts';

/** A list, and why it may lack some; or why there is none. */
export interface Listed<T> {
  readonly list?: readonly T[];
  readonly gap?: Gap;
}

/** dot1dTpFdbStatus of a station that was heard (RFC 4188). */
const learned = 3;

/**
 * Stations by the port behind which they were heard. Left out are those that were not learnt and
 * the agent's own; a table cut short gives what there is of it beside the gap.
 */
export function forwardingOf(
  walk: Walk,
  { ports, bridge }: { readonly ports: KnownPorts; readonly bridge: Read<BridgePorts> },
): Listed<ForwardingReading> {
  const byVlan = (walk.columns.get(stationColumns.dot1qTpFdbPort.oid)?.cells.size ?? 0) > 0;
  const [port, status] = byVlan
    ? [stationColumns.dot1qTpFdbPort, stationColumns.dot1qTpFdbStatus]
    : [stationColumns.dot1dTpFdbPort, stationColumns.dot1dTpFdbStatus];
  const walked = walk.columns.get(port.oid) ?? walk.columns.get(stationColumns.dot1qTpFdbPort.oid);
  if (!walked?.cells.size) return { gap: missing(port, walked) };
  if (bridge.gap !== undefined) return { gap: bridge.gap };
  // Without the VLANs it would read as if the node learnt for all of them together.
  const vlansLost = byVlan ? lostIn(walk, stationColumns.dot1qVlanFdbId, wholeNumber) : undefined;
  if (vlansLost !== undefined) return { gap: vlansLost };
  const vlans = vlansByFilter(walk);
  const own = new Set([...ports.values()].map(({ mac }) => mac));
  const places = new Map<string, { port: string; vlan?: number; macs: Set<string> }>();
  let nameless = 0;
  for (const [index, bridgePort] of rowsOf(walk, port, wholeNumber)) {
    const parts = indexParts(index, byVlan ? 7 : 6);
    const mac = macOfParts(parts?.slice(-6) ?? []);
    if (mac === undefined || own.has(mac) || bridgePort === 0) continue;
    if (cellOf(walk, status, index, wholeNumber).value !== learned) continue;
    const name = ports.get(bridge.value.get(bridgePort) ?? 0)?.name;
    if (name === undefined) {
      nameless += 1;
      continue;
    }
    const vlan = byVlan ? vlans.get(parts?.[0] ?? 0) : undefined;
    const key = `${vlan ?? ''} ${name}`;
    const place = places.get(key) ?? {
      port: name,
      ...(vlan === undefined ? {} : { vlan }),
      macs: new Set<string>(),
    };
    places.set(key, place);
    place.macs.add(mac);
  }
  const list = [...places.values()]
    .map((place) => ({ ...place, macs: [...place.macs].sort() }))
    .sort((a, b) => byName(a.port, b.port) || (a.vlan ?? 0) - (b.vlan ?? 0));
  const lost = [port, status].map((column) => lostIn(walk, column, wholeNumber)).find(Boolean);
  if (lost !== undefined) return { list, gap: lost };
  return nameless === 0 ? { list } : { list, gap: namelessGap(`${nameless} stations`) };
}

/** The gap of rows at ports that the tables of ports do not have. */
export function namelessGap(what: string): Gap {
  return { reason: 'unreadable', words: `${what} at ports that the tables of ports do not name` };
}

/** VLAN of each filtering database, where it has one only and the agent says which. */
function vlansByFilter(walk: Walk): ReadonlyMap<number, number> {
  const vlans = new Map<number, Set<number>>();
  for (const [index, filter] of rowsOf(walk, stationColumns.dot1qVlanFdbId, wholeNumber)) {
    const vlan = vlanOfIndex(index, true);
    if (vlan !== undefined) vlans.set(filter, (vlans.get(filter) ?? new Set()).add(vlan));
  }
  return new Map(
    [...vlans].flatMap(([filter, [vlan, ...others]]) =>
      vlan === undefined || others.length > 0 ? [] : [[filter, vlan] as const],
    ),
  );
}

function wholeNumber(cell: Varbind, what: string): Read<number> {
  return integerOf(cell, what, [0, 2 ** 32 - 1]);
}
