import { counterBytes, snmpObject, textBytes } from './snmp-object.ts';

const physical = '1.3.6.1.2.1.47.1.1.1.1';
const sensor = '1.3.6.1.2.1.99.1.1.1';

/** Columns of the parts of a device (RFC 6933) and of its sensors (RFC 3433), by entPhysicalIndex. */
export const entityColumns = {
  entPhySensorType: snmpObject('ENTITY-SENSOR-MIB', 'entPhySensorType', `${sensor}.1`),
  entPhySensorScale: snmpObject('ENTITY-SENSOR-MIB', 'entPhySensorScale', `${sensor}.2`),
  entPhySensorPrecision: snmpObject('ENTITY-SENSOR-MIB', 'entPhySensorPrecision', `${sensor}.3`),
  entPhySensorValue: snmpObject('ENTITY-SENSOR-MIB', 'entPhySensorValue', `${sensor}.4`),
  entPhySensorOperStatus: snmpObject('ENTITY-SENSOR-MIB', 'entPhySensorOperStatus', `${sensor}.5`),
  entPhySensorUnitsDisplay: snmpObject(
    'ENTITY-SENSOR-MIB',
    'entPhySensorUnitsDisplay',
    `${sensor}.6`,
    counterBytes,
  ),
  entPhysicalContainedIn: snmpObject('ENTITY-MIB', 'entPhysicalContainedIn', `${physical}.4`),
  entPhysicalClass: snmpObject('ENTITY-MIB', 'entPhysicalClass', `${physical}.5`),
  entPhysicalDescr: snmpObject('ENTITY-MIB', 'entPhysicalDescr', `${physical}.2`, textBytes),
  entPhysicalName: snmpObject('ENTITY-MIB', 'entPhysicalName', `${physical}.7`, textBytes),
  entAliasMappingIdentifier: snmpObject(
    'ENTITY-MIB',
    'entAliasMappingIdentifier',
    '1.3.6.1.2.1.47.1.3.2.1.2',
    textBytes,
  ),
} as const;
