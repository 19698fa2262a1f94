import { counterBytes, snmpObject, textBytes } from './snmp-object.ts';

const lag = '1.2.840.10006.300.43.1';

/**
 * Columns of members by ifIndex, and the list of members by the ifIndex of the aggregate (IEEE
 * 802.1AX-2008 IEEE8023-LAG-MIB; the number of the partner's system identifier is from memory).
 */
export const lagColumns = {
  dot3adAggPortAttachedAggID: snmpObject(
    'IEEE8023-LAG-MIB',
    'dot3adAggPortAttachedAggID',
    `${lag}.2.1.1.13`,
    counterBytes,
  ),
  dot3adAggPortActorOperState: snmpObject(
    'IEEE8023-LAG-MIB',
    'dot3adAggPortActorOperState',
    `${lag}.2.1.1.21`,
    counterBytes,
  ),
  dot3adAggPortPartnerOperState: snmpObject(
    'IEEE8023-LAG-MIB',
    'dot3adAggPortPartnerOperState',
    `${lag}.2.1.1.23`,
    counterBytes,
  ),
  dot3adAggPortPartnerOperSystemID: snmpObject(
    'IEEE8023-LAG-MIB',
    'dot3adAggPortPartnerOperSystemID',
    `${lag}.2.1.1.9`,
    counterBytes,
  ),
  dot3adAggPortListPorts: snmpObject(
    'IEEE8023-LAG-MIB',
    'dot3adAggPortListPorts',
    `${lag}.1.2.1.1`,
    textBytes,
  ),
} as const;
