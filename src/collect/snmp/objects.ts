/** One object of a published MIB module that may be asked for. */
export interface SnmpObject {
  readonly mib: string;
  readonly name: string;
  /** Of a scalar with its `.0`; of a column without an index. */
  readonly oid: string;
  /** What one value of it takes in a reply, in bytes, before any was seen. */
  readonly bytesHint: number;
}

/** Bytes of a number with its OID in a reply. */
const numberBytes = 20;
/** Bytes of a 64-bit counter with its OID. */
const counterBytes = 24;
/** Bytes of a short text with its OID. */
const textBytes = 44;

const ifTable = '1.3.6.1.2.1.2.2.1';
const ifXTable = '1.3.6.1.2.1.31.1.1.1';
const dot3Stats = '1.3.6.1.2.1.10.7.2.1';
const dot3Pause = '1.3.6.1.2.1.10.7.10.1';
const ifMau = '1.3.6.1.2.1.26.2.1.1';
const ifMauAutoNeg = '1.3.6.1.2.1.26.5.1.1';

function object(mib: string, name: string, oid: string, bytesHint = numberBytes): SnmpObject {
  return { mib, name, oid, bytesHint };
}

/** Asked once, in one GET (RFC 3418, RFC 3411, RFC 2863). */
export const scalars = {
  sysDescr: object('SNMPv2-MIB', 'sysDescr', '1.3.6.1.2.1.1.1.0', textBytes),
  sysObjectID: object('SNMPv2-MIB', 'sysObjectID', '1.3.6.1.2.1.1.2.0'),
  sysUpTime: object('SNMPv2-MIB', 'sysUpTime', '1.3.6.1.2.1.1.3.0'),
  sysName: object('SNMPv2-MIB', 'sysName', '1.3.6.1.2.1.1.5.0', textBytes),
  snmpEngineID: object('SNMP-FRAMEWORK-MIB', 'snmpEngineID', '1.3.6.1.6.3.10.2.1.1.0'),
  snmpEngineBoots: object('SNMP-FRAMEWORK-MIB', 'snmpEngineBoots', '1.3.6.1.6.3.10.2.1.2.0'),
  snmpEngineTime: object('SNMP-FRAMEWORK-MIB', 'snmpEngineTime', '1.3.6.1.6.3.10.2.1.3.0'),
  ifNumber: object('IF-MIB', 'ifNumber', '1.3.6.1.2.1.2.1.0'),
} as const satisfies Record<string, SnmpObject>;

/**
 * Columns indexed by ifIndex (RFC 2863, RFC 3635), in the order in which they are read: what a
 * verdict needs first, so that a reading cut short still has it.
 */
export const portColumns = {
  ifType: object('IF-MIB', 'ifType', `${ifTable}.3`),
  ifName: object('IF-MIB', 'ifName', `${ifXTable}.1`, textBytes),
  ifDescr: object('IF-MIB', 'ifDescr', `${ifTable}.2`, textBytes),
  ifMtu: object('IF-MIB', 'ifMtu', `${ifTable}.4`),
  ifOperStatus: object('IF-MIB', 'ifOperStatus', `${ifTable}.8`),
  ifAdminStatus: object('IF-MIB', 'ifAdminStatus', `${ifTable}.7`),
  ifSpeed: object('IF-MIB', 'ifSpeed', `${ifTable}.5`),
  ifHighSpeed: object('IF-MIB', 'ifHighSpeed', `${ifXTable}.15`),
  dot3StatsDuplexStatus: object('EtherLike-MIB', 'dot3StatsDuplexStatus', `${dot3Stats}.19`),
  ifConnectorPresent: object('IF-MIB', 'ifConnectorPresent', `${ifXTable}.17`),
  ifPhysAddress: object('IF-MIB', 'ifPhysAddress', `${ifTable}.6`, counterBytes),
  ifAlias: object('IF-MIB', 'ifAlias', `${ifXTable}.18`, textBytes),
  ifInErrors: object('IF-MIB', 'ifInErrors', `${ifTable}.14`),
  ifOutErrors: object('IF-MIB', 'ifOutErrors', `${ifTable}.20`),
  ifInDiscards: object('IF-MIB', 'ifInDiscards', `${ifTable}.13`),
  ifOutDiscards: object('IF-MIB', 'ifOutDiscards', `${ifTable}.19`),
  dot3StatsFCSErrors: object('EtherLike-MIB', 'dot3StatsFCSErrors', `${dot3Stats}.3`),
  dot3StatsAlignmentErrors: object('EtherLike-MIB', 'dot3StatsAlignmentErrors', `${dot3Stats}.2`),
  dot3StatsLateCollisions: object('EtherLike-MIB', 'dot3StatsLateCollisions', `${dot3Stats}.8`),
  dot3StatsFrameTooLongs: object('EtherLike-MIB', 'dot3StatsFrameTooLongs', `${dot3Stats}.13`),
  dot3StatsSymbolErrors: object('EtherLike-MIB', 'dot3StatsSymbolErrors', `${dot3Stats}.18`),
  dot3PauseOperMode: object('EtherLike-MIB', 'dot3PauseOperMode', `${dot3Pause}.2`),
  dot3InPauseFrames: object('EtherLike-MIB', 'dot3InPauseFrames', `${dot3Pause}.3`),
  dot3OutPauseFrames: object('EtherLike-MIB', 'dot3OutPauseFrames', `${dot3Pause}.4`),
  ifHCInOctets: object('IF-MIB', 'ifHCInOctets', `${ifXTable}.6`, counterBytes),
  ifHCOutOctets: object('IF-MIB', 'ifHCOutOctets', `${ifXTable}.10`, counterBytes),
  ifHCInUcastPkts: object('IF-MIB', 'ifHCInUcastPkts', `${ifXTable}.7`, counterBytes),
  ifHCInMulticastPkts: object('IF-MIB', 'ifHCInMulticastPkts', `${ifXTable}.8`, counterBytes),
  ifHCInBroadcastPkts: object('IF-MIB', 'ifHCInBroadcastPkts', `${ifXTable}.9`, counterBytes),
  ifHCOutUcastPkts: object('IF-MIB', 'ifHCOutUcastPkts', `${ifXTable}.11`, counterBytes),
  ifHCOutMulticastPkts: object('IF-MIB', 'ifHCOutMulticastPkts', `${ifXTable}.12`, counterBytes),
  ifHCOutBroadcastPkts: object('IF-MIB', 'ifHCOutBroadcastPkts', `${ifXTable}.13`, counterBytes),
} as const satisfies Record<string, SnmpObject>;

/** Name of a column that is read for each port. */
export type PortColumn = keyof typeof portColumns;

/** Columns indexed by ifIndex and a number of the medium at that port (RFC 4836). */
export const mauColumns = {
  ifMauType: object('MAU-MIB', 'ifMauType', `${ifMau}.3`, counterBytes),
  ifMauAutoNegAdminStatus: object('MAU-MIB', 'ifMauAutoNegAdminStatus', `${ifMauAutoNeg}.1`),
  ifMauAutoNegRemoteSignaling: object(
    'MAU-MIB',
    'ifMauAutoNegRemoteSignaling',
    `${ifMauAutoNeg}.2`,
  ),
  ifMauAutoNegCapabilityBits: object('MAU-MIB', 'ifMauAutoNegCapabilityBits', `${ifMauAutoNeg}.9`),
  ifMauAutoNegCapAdvertisedBits: object(
    'MAU-MIB',
    'ifMauAutoNegCapAdvertisedBits',
    `${ifMauAutoNeg}.10`,
  ),
  ifMauAutoNegCapReceivedBits: object(
    'MAU-MIB',
    'ifMauAutoNegCapReceivedBits',
    `${ifMauAutoNeg}.11`,
  ),
} as const satisfies Record<string, SnmpObject>;

/** Name of a column that is read for each medium of a port. */
export type MauColumn = keyof typeof mauColumns;

/** All columns of a reading, in the order in which they are read. */
export const walkedColumns: readonly SnmpObject[] = [
  ...Object.values(portColumns),
  ...Object.values(mauColumns),
];

/** Indexed higher.lower; asked only where a port is built on others (RFC 2863). */
export const ifStackStatus = object('IF-MIB', 'ifStackStatus', '1.3.6.1.2.1.31.1.2.1.3');

/** Every object that a reading can ask for, in the order of asking. Nothing else is ever sent. */
export function snmpRequests(): readonly SnmpObject[] {
  return [...Object.values(scalars), ...walkedColumns, ifStackStatus];
}

/** `IF-MIB ifMtu (1.3.6.1.2.1.2.2.1.4)`: the source of a fact. */
export function objectText(asked: SnmpObject): string {
  return `${asked.mib} ${asked.name} (${asked.oid})`;
}
