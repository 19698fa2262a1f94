import { counterBytes, type SnmpObject, snmpObject, textBytes } from './snmp-object.ts';

const ifTable = '1.3.6.1.2.1.2.2.1';
const ifXTable = '1.3.6.1.2.1.31.1.1.1';
const dot3Stats = '1.3.6.1.2.1.10.7.2.1';
const dot3Pause = '1.3.6.1.2.1.10.7.10.1';
const ifMau = '1.3.6.1.2.1.26.2.1.1';
const ifMauAutoNeg = '1.3.6.1.2.1.26.5.1.1';

/** Asked once, in one GET (RFC 3418, RFC 3411, RFC 2863). */
export const scalars = {
  sysDescr: snmpObject('SNMPv2-MIB', 'sysDescr', '1.3.6.1.2.1.1.1.0', textBytes),
  sysObjectID: snmpObject('SNMPv2-MIB', 'sysObjectID', '1.3.6.1.2.1.1.2.0'),
  sysUpTime: snmpObject('SNMPv2-MIB', 'sysUpTime', '1.3.6.1.2.1.1.3.0'),
  sysName: snmpObject('SNMPv2-MIB', 'sysName', '1.3.6.1.2.1.1.5.0', textBytes),
  snmpEngineID: snmpObject('SNMP-FRAMEWORK-MIB', 'snmpEngineID', '1.3.6.1.6.3.10.2.1.1.0'),
  snmpEngineBoots: snmpObject('SNMP-FRAMEWORK-MIB', 'snmpEngineBoots', '1.3.6.1.6.3.10.2.1.2.0'),
  snmpEngineTime: snmpObject('SNMP-FRAMEWORK-MIB', 'snmpEngineTime', '1.3.6.1.6.3.10.2.1.3.0'),
  ifNumber: snmpObject('IF-MIB', 'ifNumber', '1.3.6.1.2.1.2.1.0'),
} as const satisfies Record<string, SnmpObject>;

/**
 * Columns indexed by ifIndex (RFC 2863, RFC 3635), in the order in which they are read: what a
 * verdict needs first, so that a reading cut short still has it.
 */
export const portColumns = {
  ifType: snmpObject('IF-MIB', 'ifType', `${ifTable}.3`),
  ifName: snmpObject('IF-MIB', 'ifName', `${ifXTable}.1`, textBytes),
  ifDescr: snmpObject('IF-MIB', 'ifDescr', `${ifTable}.2`, textBytes),
  ifMtu: snmpObject('IF-MIB', 'ifMtu', `${ifTable}.4`),
  ifOperStatus: snmpObject('IF-MIB', 'ifOperStatus', `${ifTable}.8`),
  ifAdminStatus: snmpObject('IF-MIB', 'ifAdminStatus', `${ifTable}.7`),
  ifSpeed: snmpObject('IF-MIB', 'ifSpeed', `${ifTable}.5`),
  ifHighSpeed: snmpObject('IF-MIB', 'ifHighSpeed', `${ifXTable}.15`),
  dot3StatsDuplexStatus: snmpObject('EtherLike-MIB', 'dot3StatsDuplexStatus', `${dot3Stats}.19`),
  ifConnectorPresent: snmpObject('IF-MIB', 'ifConnectorPresent', `${ifXTable}.17`),
  ifPhysAddress: snmpObject('IF-MIB', 'ifPhysAddress', `${ifTable}.6`, counterBytes),
  ifAlias: snmpObject('IF-MIB', 'ifAlias', `${ifXTable}.18`, textBytes),
  ifInErrors: snmpObject('IF-MIB', 'ifInErrors', `${ifTable}.14`),
  ifOutErrors: snmpObject('IF-MIB', 'ifOutErrors', `${ifTable}.20`),
  ifInDiscards: snmpObject('IF-MIB', 'ifInDiscards', `${ifTable}.13`),
  ifOutDiscards: snmpObject('IF-MIB', 'ifOutDiscards', `${ifTable}.19`),
  dot3StatsFCSErrors: snmpObject('EtherLike-MIB', 'dot3StatsFCSErrors', `${dot3Stats}.3`),
  dot3StatsAlignmentErrors: snmpObject(
    'EtherLike-MIB',
    'dot3StatsAlignmentErrors',
    `${dot3Stats}.2`,
  ),
  dot3StatsLateCollisions: snmpObject('EtherLike-MIB', 'dot3StatsLateCollisions', `${dot3Stats}.8`),
  dot3StatsFrameTooLongs: snmpObject('EtherLike-MIB', 'dot3StatsFrameTooLongs', `${dot3Stats}.13`),
  dot3StatsSymbolErrors: snmpObject('EtherLike-MIB', 'dot3StatsSymbolErrors', `${dot3Stats}.18`),
  dot3PauseOperMode: snmpObject('EtherLike-MIB', 'dot3PauseOperMode', `${dot3Pause}.2`),
  dot3InPauseFrames: snmpObject('EtherLike-MIB', 'dot3InPauseFrames', `${dot3Pause}.3`),
  dot3OutPauseFrames: snmpObject('EtherLike-MIB', 'dot3OutPauseFrames', `${dot3Pause}.4`),
  ifHCInOctets: snmpObject('IF-MIB', 'ifHCInOctets', `${ifXTable}.6`, counterBytes),
  ifHCOutOctets: snmpObject('IF-MIB', 'ifHCOutOctets', `${ifXTable}.10`, counterBytes),
  ifHCInUcastPkts: snmpObject('IF-MIB', 'ifHCInUcastPkts', `${ifXTable}.7`, counterBytes),
  ifHCInMulticastPkts: snmpObject('IF-MIB', 'ifHCInMulticastPkts', `${ifXTable}.8`, counterBytes),
  ifHCInBroadcastPkts: snmpObject('IF-MIB', 'ifHCInBroadcastPkts', `${ifXTable}.9`, counterBytes),
  ifHCOutUcastPkts: snmpObject('IF-MIB', 'ifHCOutUcastPkts', `${ifXTable}.11`, counterBytes),
  ifHCOutMulticastPkts: snmpObject(
    'IF-MIB',
    'ifHCOutMulticastPkts',
    `${ifXTable}.12`,
    counterBytes,
  ),
  ifHCOutBroadcastPkts: snmpObject(
    'IF-MIB',
    'ifHCOutBroadcastPkts',
    `${ifXTable}.13`,
    counterBytes,
  ),
} as const satisfies Record<string, SnmpObject>;

/** Name of a column that is read for each port. */
export type PortColumn = keyof typeof portColumns;

/** Columns indexed by ifIndex and a number of the medium at that port (RFC 4836). */
export const mauColumns = {
  ifMauType: snmpObject('MAU-MIB', 'ifMauType', `${ifMau}.3`, counterBytes),
  ifMauAutoNegAdminStatus: snmpObject('MAU-MIB', 'ifMauAutoNegAdminStatus', `${ifMauAutoNeg}.1`),
  ifMauAutoNegRemoteSignaling: snmpObject(
    'MAU-MIB',
    'ifMauAutoNegRemoteSignaling',
    `${ifMauAutoNeg}.2`,
  ),
  ifMauAutoNegCapabilityBits: snmpObject(
    'MAU-MIB',
    'ifMauAutoNegCapabilityBits',
    `${ifMauAutoNeg}.9`,
  ),
  ifMauAutoNegCapAdvertisedBits: snmpObject(
    'MAU-MIB',
    'ifMauAutoNegCapAdvertisedBits',
    `${ifMauAutoNeg}.10`,
  ),
  ifMauAutoNegCapReceivedBits: snmpObject(
    'MAU-MIB',
    'ifMauAutoNegCapReceivedBits',
    `${ifMauAutoNeg}.11`,
  ),
} as const satisfies Record<string, SnmpObject>;

/** Indexed by ifIndex, medium and jack (RFC 4836): what one plugs in. */
export const ifJackType = snmpObject('MAU-MIB', 'ifJackType', '1.3.6.1.2.1.26.2.2.1.2');

/** Name of a column that is read for each medium of a port. */
export type MauColumn = keyof typeof mauColumns;

/** Indexed higher.lower; asked only where a port is built on others (RFC 2863). */
export const ifStackStatus = snmpObject('IF-MIB', 'ifStackStatus', '1.3.6.1.2.1.31.1.2.1.3');
