import snmp from 'net-snmp';
import type {
  DescribedStation,
  DescribedSwitch,
  DescribedSwitchPort,
  DescribedVlan,
} from './described-switch.ts';
import { bitsOf, type Row } from './row.ts';

const { Integer, OctetString, Gauge, Counter } = snmp.ObjectType;
const dot1d = '1.3.6.1.2.1.17';
const dot1q = `${dot1d}.7.1`;
const lag = '1.2.840.10006.300.43.1.2.1.1';

/** BRIDGE-MIB and Q-BRIDGE-MIB (RFC 4188, RFC 4363). */
export function bridgeRows({
  ports,
  stations = [],
  vlans,
  vlanTable = 'current',
}: DescribedSwitch): readonly Row[] {
  const numbers = new Map(ports.flatMap(({ ifIndex, bridgePort }) => pairOf(ifIndex, bridgePort)));
  const filters = new Map(vlans?.map(({ vlan, filter = vlan }) => [vlan, filter]));
  return [
    ...ports.flatMap(basePortRows),
    ...stations.flatMap((station) => stationRows(station, numbers, vlans && filters)),
    ...(vlans ?? []).flatMap((vlan) => vlanRows(vlan, numbers, vlanTable)),
  ];
}

function pairOf(ifIndex: number, bridgePort: number | undefined) {
  return bridgePort === undefined ? [] : [[ifIndex, bridgePort] as const];
}

function basePortRows(port: DescribedSwitchPort): readonly Row[] {
  const { ifIndex, bridgePort, spanningTree, pvid, forwardTooLong } = port;
  if (bridgePort === undefined) return [];
  const rows: Row[] = [
    [`${dot1d}.1.4.1.2.${bridgePort}`, Integer, ifIndex],
    [`${dot1d}.1.4.1.5.${bridgePort}`, Counter, forwardTooLong ?? 0],
  ];
  if (spanningTree !== undefined) {
    rows.push([`${dot1d}.2.15.1.3.${bridgePort}`, Integer, spanningTree]);
  }
  if (pvid !== undefined) rows.push([`${dot1q}.4.5.1.1.${bridgePort}`, Gauge, pvid]);
  return rows;
}

function stationRows(
  { mac, ifIndex, vlan = 1, status = 3 }: DescribedStation,
  numbers: ReadonlyMap<number, number>,
  filters: ReadonlyMap<number, number> | undefined,
): readonly Row[] {
  const octets = mac
    .split(':')
    .map((hex) => Number.parseInt(hex, 16))
    .join('.');
  const port = numbers.get(ifIndex) ?? 0;
  if (filters === undefined) {
    return [
      [`${dot1d}.4.3.1.2.${octets}`, Integer, port],
      [`${dot1d}.4.3.1.3.${octets}`, Integer, status],
    ];
  }
  const index = `${filters.get(vlan) ?? vlan}.${octets}`;
  return [
    [`${dot1q}.2.2.1.2.${index}`, Integer, port],
    [`${dot1q}.2.2.1.3.${index}`, Integer, status],
  ];
}

function vlanRows(
  { vlan, tagged, untagged, filter = vlan }: DescribedVlan,
  numbers: ReadonlyMap<number, number>,
  table: 'current' | 'static',
): readonly Row[] {
  const list = (members: readonly number[]) =>
    bitsOf(members.flatMap((ifIndex) => numbers.get(ifIndex) ?? []).map((port) => port - 1));
  const [egress, bare] = [list([...tagged, ...untagged]), list(untagged)];
  if (table === 'static') {
    return [
      [`${dot1q}.4.3.1.2.${vlan}`, OctetString, egress],
      [`${dot1q}.4.3.1.4.${vlan}`, OctetString, bare],
    ];
  }
  return [
    [`${dot1q}.4.2.1.3.0.${vlan}`, Gauge, filter],
    [`${dot1q}.4.2.1.4.0.${vlan}`, OctetString, egress],
    [`${dot1q}.4.2.1.5.0.${vlan}`, OctetString, bare],
  ];
}

/** IEEE8023-LAG-MIB dot3adAggPortTable. */
export function memberRows({ ifIndex, member }: DescribedSwitchPort): readonly Row[] {
  if (member === undefined) return [];
  const system = Buffer.from(member.partnerSystem.replaceAll(':', ''), 'hex');
  return [
    [`${lag}.9.${ifIndex}`, OctetString, system],
    [`${lag}.13.${ifIndex}`, Integer, member.aggregator],
    [`${lag}.21.${ifIndex}`, OctetString, Buffer.of(member.actor)],
    [`${lag}.23.${ifIndex}`, OctetString, Buffer.of(member.partner)],
  ];
}
