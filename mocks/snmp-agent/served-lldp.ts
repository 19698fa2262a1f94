import snmp from 'net-snmp';
import type {
  DescribedNeighbour,
  DescribedSwitch,
  DescribedSwitchPort,
} from './described-switch.ts';
import { bitsOf, type Row } from './row.ts';

const { Integer, OctetString, Gauge } = snmp.ObjectType;
const trees = { 1: '1.0.8802.1.1.2.1', 2: '1.3.111.2.802.1.1.13.1' } as const;
/** Subtype of a port identifier: interfaceName. */
const interfaceName = 5;
/** Local numbers of an agent that counts for itself. */
const ownNumbersFrom = 40;

/** LLDP-MIB or LLDP-V2-MIB with the extensions of 802.3 and 802.1. */
export function lldpRows({ lldp, ports }: DescribedSwitch): readonly Row[] {
  if (lldp === undefined) return [];
  const number = (ifIndex: number): number => {
    if (lldp.version === 2 || lldp.numbers === 'ifIndex') return ifIndex;
    const place = ports.findIndex((port) => port.ifIndex === ifIndex);
    return lldp.numbers === 'own' ? ownNumbersFrom + place : (ports[place]?.bridgePort ?? ifIndex);
  };
  return [
    ...ports.flatMap((port) => localRows(port, trees[lldp.version], number(port.ifIndex))),
    ...lldp.neighbours.flatMap((neighbour, place) => {
      const middle = lldp.version === 2 ? '.1' : '';
      const index = `0.${number(neighbour.ifIndex)}${middle}.${place + 1}`;
      return neighbourRows(neighbour, index, lldp.version);
    }),
  ];
}

function localRows(port: DescribedSwitchPort, tree: string, number: number): readonly Row[] {
  return [
    [`${tree}.3.7.1.2.${number}`, Integer, interfaceName],
    [`${tree}.3.7.1.3.${number}`, OctetString, port.name],
    [`${tree}.3.7.1.4.${number}`, OctetString, port.descr],
  ];
}

function neighbourRows(one: DescribedNeighbour, index: string, version: 1 | 2): readonly Row[] {
  const tree = trees[version];
  // The columns of version 2 stand one further on; its 802.3 extension has one table less.
  const at = (column: number) => `${tree}.4.1.1.${column + version - 1}.${index}`;
  const dot3 = (column: number) => `${tree}.5.4623.1.3.1.1.${column}.${index}`;
  const rows: Row[] = [
    [at(4), Integer, one.chassis[0]],
    [at(5), OctetString, one.chassis[1]],
    [at(6), Integer, one.port[0]],
    [at(7), OctetString, one.port[1]],
    [at(8), OctetString, one.portText ?? ''],
    [at(9), OctetString, one.systemName ?? ''],
    [at(10), OctetString, one.systemText ?? ''],
    [at(12), OctetString, bitsOf(one.capabilities ?? [], 2)],
    ...(one.addresses ?? []).map(
      (address): Row => [`${tree}.4.2.1.3.${index}.1.4.${address}`, Integer, 2],
    ),
  ];
  if (one.mau !== undefined) {
    rows.push(
      [dot3(2), Integer, one.negotiates === true ? 1 : 2],
      [dot3(3), OctetString, one.offers ?? Buffer.alloc(2)],
      [dot3(4), Integer, one.mau],
    );
  }
  if (one.frameMaxBytes !== undefined) {
    const table = version === 1 ? 4 : 3;
    rows.push([`${tree}.5.4623.1.3.${table}.1.1.${index}`, Gauge, one.frameMaxBytes]);
  }
  if (one.untaggedVlan !== undefined) {
    rows.push([`${tree}.5.32962.1.3.1.1.1.${index}`, Integer, one.untaggedVlan]);
  }
  return rows;
}
