import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import { vlanColumns } from './bridge-objects.ts';
import { type BridgePorts, bridgePortOf } from './bridge-ports.ts';
import type { Walk } from './bulk-table.ts';
import { indexParts } from './index-parts.ts';
import { missing } from './port-cells.ts';
import { portsOfList } from './port-list.ts';
import { objectText, type SnmpObject } from './snmp-object.ts';
import { cellOf, lostIn, rowsOf } from './table-cells.ts';
import { integerOf, octetsOf, type Read, unsupported } from './values.ts';

/** Highest VLAN identifier (IEEE 802.1Q-2018 9.6). */
export const vlanMax = 4094;

const current = [
  vlanColumns.dot1qVlanCurrentEgressPorts,
  vlanColumns.dot1qVlanCurrentUntaggedPorts,
] as const;
const fixed = [
  vlanColumns.dot1qVlanStaticEgressPorts,
  vlanColumns.dot1qVlanStaticUntaggedPorts,
] as const;

/** Source of each fact of VLANs. */
export const vlanFactSources: Readonly<Record<string, string>> = {
  untaggedVlan: objectText(vlanColumns.dot1qPvid),
  untaggedVlans: [current[1], fixed[1]].map(objectText).join(', '),
  taggedVlans: [...current, ...fixed].map(objectText).join(', '),
};

interface Membership {
  readonly egress: ReadonlySet<number>;
  readonly untagged: ReadonlySet<number>;
}

/** VLANs of one port of the bridge. */
export function vlanReader(
  walk: Walk,
  bridge: Read<BridgePorts>,
): (ifIndex: number) => Readonly<Record<string, Read<FactValue>>> {
  const members = memberships(walk);
  return (ifIndex) => {
    if (bridge.gap !== undefined) return alike(bridge.gap);
    const port = bridgePortOf(bridge.value, ifIndex);
    if (port === undefined) return alike(noBridgePort);
    const vlans = (tagged: boolean): Read<readonly number[]> => {
      if (members.gap !== undefined) return members;
      const found = [...members.value].filter(
        ([, { egress, untagged }]) => egress.has(port) && untagged.has(port) !== tagged,
      );
      return { value: found.map(([vlan]) => vlan).sort((a, b) => a - b) };
    };
    const pvid = cellOf(walk, vlanColumns.dot1qPvid, String(port), (cell, what) =>
      integerOf(cell, what, [1, vlanMax]),
    );
    return { untaggedVlan: pvid, untaggedVlans: vlans(false), taggedVlans: vlans(true) };
  };
}

/** Why a port that is in no bridge has no fact of one. */
export const noBridgePort: Gap = unsupported('the port is not one of the bridge');

function alike(gap: Gap): Readonly<Record<string, Read<FactValue>>> {
  return { untaggedVlan: { gap }, untaggedVlans: { gap }, taggedVlans: { gap } };
}

/** Members by VLAN, as in use, else as configured. A list that lacks rows would read as all there is. */
function memberships(walk: Walk): Read<ReadonlyMap<number, Membership>> {
  const used = (walk.columns.get(current[0].oid)?.cells.size ?? 0) > 0;
  const columns = used || walk.columns.get(fixed[0].oid) === undefined ? current : fixed;
  const [egress, untagged] = columns;
  for (const column of columns) {
    const walked = walk.columns.get(column.oid);
    if (!walked?.cells.size) return { gap: missing(column, walked) };
    const lost = lostIn(walk, column, listOctets);
    if (lost !== undefined) return { gap: lost };
  }
  const lists = (column: SnmpObject) => {
    const byVlan = new Map<number, ReadonlySet<number>>();
    for (const [index, octets] of rowsOf(walk, column, listOctets)) {
      const vlan = vlanOfIndex(index, used);
      const ports = portsOfList(octets);
      if (vlan !== undefined && ports !== undefined) byVlan.set(vlan, new Set(ports));
    }
    return byVlan;
  };
  const bare = lists(untagged);
  const none: ReadonlySet<number> = new Set();
  return {
    value: new Map(
      [...lists(egress)].map(([vlan, ports]) => [
        vlan,
        { egress: ports, untagged: bare.get(vlan) ?? none },
      ]),
    ),
  };
}

/** A VLAN without members may have a list of no octets. */
function listOctets(...[cell, what]: Parameters<typeof octetsOf>): Read<Uint8Array> {
  const octets = octetsOf(cell, what);
  return octets.gap?.reason === 'unsupported' ? { value: new Uint8Array() } : octets;
}

/** The table in use is indexed by TimeFilter and VLAN, the other by VLAN. */
export function vlanOfIndex(index: string, timeFiltered: boolean): number | undefined {
  const vlan = indexParts(index, timeFiltered ? 2 : 1)?.at(-1);
  return vlan !== undefined && vlan >= 1 && vlan <= vlanMax ? vlan : undefined;
}
