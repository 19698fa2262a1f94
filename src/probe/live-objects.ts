import { mauColumns, portColumns, scalars } from '../collect/snmp/objects.ts';
import { type SnmpObject, snmpObject } from '../collect/snmp/snmp-object.ts';

const ifTable = '1.3.6.1.2.1.2.2.1';
const ifXTable = '1.3.6.1.2.1.31.1.1.1';

/** Asked once at the beginning of a connection, by GETBULK: which number a port has. */
export const nameObjects = {
  ifName: portColumns.ifName,
  ifDescr: portColumns.ifDescr,
  ifAlias: portColumns.ifAlias,
  ifPhysAddress: portColumns.ifPhysAddress,
} as const satisfies Record<string, SnmpObject>;

/** Asked with every look, before those of the ports. */
export const clockObject = scalars.sysUpTime;

/** Asked of each port with every look, in one GET (RFC 2863, RFC 3635). */
export const lookObjects = {
  ifAdminStatus: portColumns.ifAdminStatus,
  ifOperStatus: portColumns.ifOperStatus,
  ifLastChange: snmpObject('IF-MIB', 'ifLastChange', `${ifTable}.9`),
  ifMtu: portColumns.ifMtu,
  ifSpeed: portColumns.ifSpeed,
  ifHighSpeed: portColumns.ifHighSpeed,
  dot3StatsDuplexStatus: portColumns.dot3StatsDuplexStatus,
  ifInErrors: portColumns.ifInErrors,
  ifOutErrors: portColumns.ifOutErrors,
  dot3StatsFCSErrors: portColumns.dot3StatsFCSErrors,
  ifCounterDiscontinuityTime: snmpObject('IF-MIB', 'ifCounterDiscontinuityTime', `${ifXTable}.19`),
} as const satisfies Record<string, SnmpObject>;

/** Asked with every look of a port that has them, for the medium that it has (RFC 4836). */
export const mediumObjects = {
  ifMauAutoNegAdminStatus: mauColumns.ifMauAutoNegAdminStatus,
  ifMauAutoNegCapReceivedBits: mauColumns.ifMauAutoNegCapReceivedBits,
} as const satisfies Record<string, SnmpObject>;
