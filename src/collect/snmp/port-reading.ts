import { snmpSpeed } from '../../ethernet/snmp-speed.ts';
import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import { type PortColumn, portColumns } from './objects.ts';
import type { CellReader } from './port-cells.ts';
import { portKind } from './port-kind.ts';
import { objectText } from './snmp-object.ts';
import { counterOf, integerOf, macOf, type Read, textOf, unsupported } from './values.ts';

const int32Max = 2_147_483_647;
const gauge32Max = 4_294_967_295;

/** Facts of one port and the reasons of those that are absent. */
export interface PortValues {
  readonly facts: Record<string, FactValue>;
  readonly gaps: Record<string, Gap>;
  /** Of facts that come from elsewhere than they do at other ports. */
  readonly sources: Record<string, string>;
}

const counters: readonly (readonly [fact: string, ...columns: PortColumn[]])[] = [
  ['rxOctets', 'ifHCInOctets'],
  ['txOctets', 'ifHCOutOctets'],
  ['rxFrames', 'ifHCInUcastPkts', 'ifHCInMulticastPkts', 'ifHCInBroadcastPkts'],
  ['txFrames', 'ifHCOutUcastPkts', 'ifHCOutMulticastPkts', 'ifHCOutBroadcastPkts'],
  ['rxErrors', 'ifInErrors'],
  ['txErrors', 'ifOutErrors'],
  ['rxDropped', 'ifInDiscards'],
  ['txDropped', 'ifOutDiscards'],
  ['rxCrcErrors', 'dot3StatsFCSErrors'],
  ['rxAlignmentErrors', 'dot3StatsAlignmentErrors'],
  ['rxTooLong', 'dot3StatsFrameTooLongs'],
  ['rxSymbolErrors', 'dot3StatsSymbolErrors'],
  ['lateCollisions', 'dot3StatsLateCollisions'],
  ['rxPauseFrames', 'dot3InPauseFrames'],
  ['txPauseFrames', 'dot3OutPauseFrames'],
];

const sourceColumns: readonly (readonly [fact: string, ...columns: PortColumn[]])[] = [
  ['alias', 'ifAlias'],
  ['kind', 'ifType', 'ifConnectorPresent'],
  ['macAddress', 'ifPhysAddress'],
  ['ifType', 'ifType'],
  ['adminUp', 'ifAdminStatus'],
  ['operUp', 'ifOperStatus'],
  ['mtuBytes', 'ifMtu'],
  ['speedMbps', 'ifHighSpeed', 'ifSpeed'],
  ['duplex', 'dot3StatsDuplexStatus'],
  ['pauseRx', 'dot3PauseOperMode'],
  ['pauseTx', 'dot3PauseOperMode'],
  ...counters,
];

/** Source of each port fact of these columns, except `ifIndex`. */
export const portFactSources: Readonly<Record<string, string>> = Object.fromEntries(
  sourceColumns.map(([fact, ...columns]) => [
    fact,
    columns.map((column) => objectText(portColumns[column])).join(', '),
  ]),
);

/** Facts of the port of one row. */
export function portValues(ifIndex: number, cell: CellReader): PortValues {
  const values: PortValues = { facts: { ifIndex }, gaps: {}, sources: {} };
  const put = (fact: string, read: Read<FactValue>) => putRead(values, fact, read);
  const ifType = cell('ifType', ranged(1, int32Max));
  const operUp = cell('ifOperStatus', operUpOf);
  put('ifType', ifType);
  put('kind', kindOf(ifType, cell));
  put('alias', aliasOf(cell));
  put('macAddress', cell('ifPhysAddress', macOf));
  put('adminUp', cell('ifAdminStatus', adminUpOf));
  put('operUp', operUp);
  put('mtuBytes', cell('ifMtu', mtuOf));
  put('speedMbps', speedOf(operUp, cell));
  put('duplex', duplexOf(operUp, cell));
  for (const way of ['rx', 'tx'] as const) {
    put(way === 'rx' ? 'pauseRx' : 'pauseTx', pauseOf(way, operUp, cell));
  }
  for (const [fact, ...columns] of counters) put(fact, sumOf(columns, cell));
  return values;
}

/** Enters one fact of a port, or why it is absent. */
export function putRead(values: PortValues, fact: string, read: Read<FactValue>): void {
  if (read.gap !== undefined) values.gaps[fact] = read.gap;
  else values.facts[fact] = read.value;
}

/** Whether the port is up, as it was entered. */
export function operUpRead({ facts, gaps }: PortValues): Read<boolean> {
  const { operUp } = facts;
  if (typeof operUp === 'boolean') return { value: operUp };
  return { gap: gaps['operUp'] ?? unsupported('ifOperStatus was not read') };
}

function ranged(min: number, max: number) {
  return (varbind: Varbind, what: string): Read<number> => integerOf(varbind, what, [min, max]);
}

function kindOf(ifType: Read<number>, cell: CellReader): Read<string> {
  if (ifType.gap !== undefined) return ifType;
  const connector = cell('ifConnectorPresent', ranged(1, 2));
  return { value: portKind(ifType.value, connector.gap ? undefined : connector.value === 1) };
}

function aliasOf(cell: CellReader): Read<string> {
  const alias = cell('ifAlias', textOf);
  return alias.value === '' ? { gap: unsupported('none was given') } : alias;
}

/** RFC 2863 ifAdminStatus: up(1), down(2), testing(3). */
export function adminUpOf(varbind: Varbind, what: string): Read<boolean> {
  const status = integerOf(varbind, what, [1, 3]);
  return status.gap ? status : { value: status.value === 1 };
}

/** RFC 2863 ifOperStatus: all but up(1) pass nothing, except unknown(4), which says nothing. */
export function operUpOf(varbind: Varbind, what: string): Read<boolean> {
  const status = integerOf(varbind, what, [1, 7]);
  if (status.gap) return status;
  if (status.value === 4) return { gap: unsupported(`${what} is unknown(4)`) };
  return { value: status.value === 1 };
}

/** ifMtu in bytes; 0 stands for one that is not known. */
export function mtuOf(varbind: Varbind, what: string): Read<number> {
  const mtu = integerOf(varbind, what, [0, int32Max]);
  return mtu.value === 0 ? { gap: unsupported(`${what} is 0`) } : mtu;
}

function speedOf(operUp: Read<boolean>, cell: CellReader): Read<number> {
  if (operUp.gap !== undefined) return operUp;
  const low = cell('ifSpeed', ranged(0, gauge32Max));
  const high = cell('ifHighSpeed', ranged(0, gauge32Max));
  // Half an answer must not be taken for all the agent had to say.
  if (operUp.value && high.gap?.reason === 'truncated') return high;
  const speed = snmpSpeed({
    operUp: operUp.value,
    ...(low.gap ? {} : { ifSpeed: low.value }),
    ...(high.gap ? {} : { ifHighSpeed: high.value }),
  });
  if (!('gap' in speed)) return { value: speed.speedMbps };
  const worse = [high, low].find((read) => read.gap && read.gap.reason !== 'unsupported');
  return operUp.value && worse?.gap ? worse : speed;
}

function duplexOf(operUp: Read<boolean>, cell: CellReader): Read<string> {
  if (operUp.value === false) return { gap: { reason: 'down', words: 'ifOperStatus is not up' } };
  return cell('dot3StatsDuplexStatus', duplexStatusOf);
}

/** RFC 3635 dot3StatsDuplexStatus: unknown(1), halfDuplex(2), fullDuplex(3). */
export function duplexStatusOf(varbind: Varbind, what: string): Read<'full' | 'half'> {
  const status = integerOf(varbind, what, [1, 3]);
  if (status.gap !== undefined) return status;
  if (status.value === 1) return { gap: unsupported(`${what} is unknown(1)`) };
  return { value: status.value === 2 ? 'half' : 'full' };
}

/** RFC 3635 dot3PauseOperMode: disabled(1), enabledXmit(2), enabledRcv(3), both(4). */
function pauseOf(way: 'rx' | 'tx', operUp: Read<boolean>, cell: CellReader): Read<boolean> {
  if (operUp.value === false) return { gap: { reason: 'down', words: 'ifOperStatus is not up' } };
  const mode = cell('dot3PauseOperMode', ranged(1, 4));
  if (mode.gap !== undefined) return mode;
  return { value: mode.value === 4 || mode.value === (way === 'tx' ? 2 : 3) };
}

function sumOf(columns: readonly PortColumn[], cell: CellReader): Read<number> {
  let sum = 0;
  for (const column of columns) {
    const read = cell(column, counterOf);
    if (read.gap !== undefined) return read;
    sum += read.value;
  }
  return { value: sum };
}
