import snmp from 'net-snmp';
import type { DescribedMau, DescribedSwitch, DescribedSwitchPort } from './described-switch.ts';
import { bitsOf, counter64, type Row } from './row.ts';
import { bridgeRows, memberRows } from './served-bridge.ts';
import { lldpRows } from './served-lldp.ts';
import { partRows, remoteErrorRows } from './served-parts.ts';
import type { Vice } from './vices.ts';

/** One instance that an agent serves. */
export interface Served {
  readonly oid: string;
  readonly numbers: readonly number[];
  readonly type: number;
  readonly value: number | string | Buffer;
}

const { Integer, OctetString, OID, Gauge, Counter, TimeTicks, Counter64 } = snmp.ObjectType;
const ifTable = '1.3.6.1.2.1.2.2.1';
const ifXTable = '1.3.6.1.2.1.31.1.1.1';
const dot3Stats = '1.3.6.1.2.1.10.7.2.1';
const gaugeMax = 4_294_967_295;

/** All that an agent serves, with the place of each OID. */
export interface ServedTable {
  readonly objects: readonly Served[];
  readonly places: ReadonlyMap<string, number>;
}

const tables = new WeakMap<DescribedSwitch, Map<string, ServedTable>>();

/** The table of a switch, made once for all agents that serve it; a changed switch is a new object. */
export function servedTable(described: DescribedSwitch, vice?: Vice): ServedTable {
  const ofSwitch = tables.get(described) ?? new Map<string, ServedTable>();
  tables.set(described, ofSwitch);
  const key = typeof vice === 'string' ? vice : '';
  const known = ofSwitch.get(key);
  if (known !== undefined) return known;
  const made = tableOf(servedObjects(described, vice));
  ofSwitch.set(key, made);
  return made;
}

/** A table of objects that are in the order of their OIDs. */
export function tableOf(objects: readonly Served[]): ServedTable {
  return { objects, places: new Map(objects.map(({ oid }, place) => [oid, place])) };
}

/** All instances of a switch in the order of their OIDs; its clocks stand still. */
export function servedObjects(described: DescribedSwitch, vice?: Vice): readonly Served[] {
  const { ports } = described;
  const rows: Row[] = [
    ...systemRows(described),
    ['1.3.6.1.2.1.2.1.0', Integer, ports.length],
    ...ports.flatMap((port) => interfaceRows(port, vice)),
    ...(vice === 'no-ifxtable' ? [] : ports.flatMap((port) => extensionRows(port, vice))),
    ...(vice === 'no-etherlike' ? [] : ports.flatMap(etherLikeRows)),
    ...(vice === 'no-etherlike' ? [] : ports.flatMap(pauseRows)),
    ...ports.flatMap(mauRows),
    ...stackRows(ports),
    ...bridgeRows(described),
    ...lldpRows(described),
    ...ports.flatMap(memberRows),
    ...ports.flatMap(remoteErrorRows),
    ...(described.parts ?? []).flatMap(partRows),
  ];
  return rows
    .map(([oid, type, value]) => ({ oid, numbers: oid.split('.').map(Number), type, value }))
    .sort((a, b) => compareNumbers(a.numbers, b.numbers));
}

/** Order of two OIDs in a MIB. */
export function compareNumbers(a: readonly number[], b: readonly number[]): number {
  for (const [i, number] of a.entries()) {
    const order = number - (b[i] ?? -1);
    if (order !== 0) return order;
  }
  return a.length - b.length;
}

function systemRows(described: DescribedSwitch): readonly Row[] {
  const engineTime = described.upSeconds;
  return [
    ['1.3.6.1.2.1.1.1.0', OctetString, described.sysDescr],
    ['1.3.6.1.2.1.1.2.0', OID, described.sysObjectId],
    ['1.3.6.1.2.1.1.3.0', TimeTicks, (described.upSeconds * 100) % 2 ** 32],
    ['1.3.6.1.2.1.1.4.0', OctetString, ''],
    ['1.3.6.1.2.1.1.5.0', OctetString, described.sysName],
    ['1.3.6.1.2.1.1.6.0', OctetString, ''],
    ['1.3.6.1.2.1.1.7.0', Integer, 2],
    ['1.3.6.1.6.3.10.2.1.1.0', OctetString, Buffer.from(described.engineId, 'hex')],
    ['1.3.6.1.6.3.10.2.1.2.0', Integer, described.engineBoots ?? 1],
    ['1.3.6.1.6.3.10.2.1.3.0', Integer, engineTime],
  ];
}

function interfaceRows(port: DescribedSwitchPort, vice?: Vice): readonly Row[] {
  const bitsPerSecond = port.speedMbps * 1e6;
  const speed =
    vice === 'speed-wrapped' ? bitsPerSecond % 2 ** 32 : Math.min(bitsPerSecond, gaugeMax);
  const { counters = {} } = port;
  const columns: readonly (readonly [column: number, type: number, value: Row[2]])[] = [
    [1, Integer, port.ifIndex],
    [2, OctetString, port.descr],
    [3, Integer, port.type],
    [4, Integer, vice === 'mtu-1500-everywhere' ? 1500 : port.mtu],
    [5, Gauge, speed],
    [6, OctetString, Buffer.from(port.mac.replaceAll(':', ''), 'hex')],
    [7, Integer, port.admin === 'up' ? 1 : 2],
    [8, Integer, { up: 1, down: 2, unknown: 4 }[port.oper]],
    [9, TimeTicks, 0],
    [10, Counter, Number(BigInt(counters.rxOctets ?? 0) % 2n ** 32n)],
    [13, Counter, counters.rxDropped ?? 0],
    [14, Counter, counters.rxErrors ?? 0],
    [16, Counter, Number(BigInt(counters.txOctets ?? 0) % 2n ** 32n)],
    [19, Counter, counters.txDropped ?? 0],
    [20, Counter, counters.txErrors ?? 0],
  ];
  return columns.map(([column, type, value]) => [
    `${ifTable}.${column}.${port.ifIndex}`,
    type,
    value,
  ]);
}

function extensionRows(port: DescribedSwitchPort, vice?: Vice): readonly Row[] {
  const { counters = {} } = port;
  const at = (column: number) => `${ifXTable}.${column}.${port.ifIndex}`;
  const rows: Row[] = [
    [at(1), OctetString, port.name],
    [at(6), Counter64, counter64(counters.rxOctets)],
    [at(7), Counter64, counter64(counters.rxFrames)],
    [at(8), Counter64, counter64(0)],
    [at(9), Counter64, counter64(0)],
    [at(10), Counter64, counter64(counters.txOctets)],
    [at(11), Counter64, counter64(counters.txFrames)],
    [at(12), Counter64, counter64(0)],
    [at(13), Counter64, counter64(0)],
    [at(14), Integer, 1],
    [at(16), Integer, 2],
    [at(18), OctetString, port.alias ?? ''],
    [at(19), TimeTicks, 0],
  ];
  if (vice !== 'speed-wrapped') rows.push([at(15), Gauge, port.speedMbps]);
  if (port.connector !== undefined) rows.push([at(17), Integer, port.connector ? 1 : 2]);
  return rows;
}

function etherLikeRows(port: DescribedSwitchPort): readonly Row[] {
  if (port.duplex === undefined) return [];
  const { counters = {} } = port;
  const at = (column: number) => `${dot3Stats}.${column}.${port.ifIndex}`;
  return [
    [at(2), Counter, counters.rxAlignmentErrors ?? 0],
    [at(3), Counter, counters.rxCrcErrors ?? 0],
    [at(8), Counter, counters.lateCollisions ?? 0],
    [at(13), Counter, counters.rxTooLong ?? 0],
    [at(18), Counter, counters.rxSymbolErrors ?? 0],
    [at(19), Integer, { unknown: 1, half: 2, full: 3 }[port.duplex]],
  ];
}

/** RFC 3635 dot3PauseTable. */
function pauseRows({ ifIndex, pause, counters = {} }: DescribedSwitchPort): readonly Row[] {
  if (pause === undefined) return [];
  const at = (column: number) => `1.3.6.1.2.1.10.7.10.1.${column}.${ifIndex}`;
  const mode = { disabled: 1, xmit: 2, rcv: 3, both: 4 }[pause];
  return [
    [at(1), Integer, mode],
    [at(2), Integer, mode],
    [at(3), Counter, counters.rxPauseFrames ?? 0],
    [at(4), Counter, counters.txPauseFrames ?? 0],
  ];
}

/** RFC 4836 ifMauTable and ifMauAutoNegTable. */
function mauRows({ ifIndex, mau = [] }: DescribedSwitchPort): readonly Row[] {
  const media: readonly DescribedMau[] = 'type' in mau ? [mau] : mau;
  return media.flatMap(({ type, jack, negotiation }, place): readonly Row[] => {
    const at = (table: string, column: number) =>
      `1.3.6.1.2.1.26.${table}.1.1.${column}.${ifIndex}.${place + 1}`;
    const types: readonly Row[] = [
      [at('2', 3), OID, type === 0 ? '0.0' : `1.3.6.1.2.1.26.4.${type}`],
      ...(jack === undefined
        ? []
        : [[`1.3.6.1.2.1.26.2.2.1.2.${ifIndex}.${place + 1}.1`, Integer, jack] as const]),
    ];
    if (negotiation === undefined) return types;
    const { enabled, partner, can, offers, hears } = negotiation;
    return [
      ...types,
      [at('5', 1), Integer, enabled ? 1 : 2],
      [at('5', 2), Integer, partner ? 1 : 2],
      [at('5', 9), OctetString, bitsOf(can)],
      [at('5', 10), OctetString, bitsOf(offers)],
      [at('5', 11), OctetString, bitsOf(hears)],
    ];
  });
}

/** RFC 2863 ifStackTable: each port has something above and something below, 0 at the ends. */
function stackRows(ports: readonly DescribedSwitchPort[]): readonly Row[] {
  const pairs = ports.flatMap((port) =>
    (port.lower ?? []).map((low) => [port.ifIndex, low] as const),
  );
  const uppers = new Set(pairs.map(([upper]) => upper));
  const lowers = new Set(pairs.map(([, lower]) => lower));
  const ends = ports.flatMap(({ ifIndex }) => [
    ...(lowers.has(ifIndex) ? [] : [[0, ifIndex] as const]),
    ...(uppers.has(ifIndex) ? [] : [[ifIndex, 0] as const]),
  ]);
  return [...pairs, ...ends].map(([upper, lower]) => [
    `1.3.6.1.2.1.31.1.2.1.3.${upper}.${lower}`,
    Integer,
    1,
  ]);
}
