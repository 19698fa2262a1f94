import { snmpObject } from './snmp-object.ts';

const dot1d = '1.3.6.1.2.1.17';
const dot1q = '1.3.6.1.2.1.17.7.1';
/** Bytes of a list of some hundred ports with its OID. */
const portListBytes = 60;
/** Bytes of a number whose index holds a MAC address. */
const stationBytes = 30;

/** Columns of a bridge by its own port numbers (RFC 4188). */
export const bridgeColumns = {
  dot1dBasePortIfIndex: snmpObject('BRIDGE-MIB', 'dot1dBasePortIfIndex', `${dot1d}.1.4.1.2`),
  dot1dBasePortMtuExceededDiscards: snmpObject(
    'BRIDGE-MIB',
    'dot1dBasePortMtuExceededDiscards',
    `${dot1d}.1.4.1.5`,
  ),
  dot1dStpPortState: snmpObject('BRIDGE-MIB', 'dot1dStpPortState', `${dot1d}.2.15.1.3`),
} as const;

/** Columns of VLANs (RFC 4363): by bridge port, by TimeFilter and VLAN, and by VLAN. */
export const vlanColumns = {
  dot1qPvid: snmpObject('Q-BRIDGE-MIB', 'dot1qPvid', `${dot1q}.4.5.1.1`),
  dot1qVlanCurrentEgressPorts: snmpObject(
    'Q-BRIDGE-MIB',
    'dot1qVlanCurrentEgressPorts',
    `${dot1q}.4.2.1.4`,
    portListBytes,
  ),
  dot1qVlanCurrentUntaggedPorts: snmpObject(
    'Q-BRIDGE-MIB',
    'dot1qVlanCurrentUntaggedPorts',
    `${dot1q}.4.2.1.5`,
    portListBytes,
  ),
  dot1qVlanStaticEgressPorts: snmpObject(
    'Q-BRIDGE-MIB',
    'dot1qVlanStaticEgressPorts',
    `${dot1q}.4.3.1.2`,
    portListBytes,
  ),
  dot1qVlanStaticUntaggedPorts: snmpObject(
    'Q-BRIDGE-MIB',
    'dot1qVlanStaticUntaggedPorts',
    `${dot1q}.4.3.1.4`,
    portListBytes,
  ),
} as const;

/** Columns of the stations that a bridge has heard (RFC 4188, RFC 4363). */
export const stationColumns = {
  dot1qVlanFdbId: snmpObject('Q-BRIDGE-MIB', 'dot1qVlanFdbId', `${dot1q}.4.2.1.3`),
  dot1qTpFdbPort: snmpObject('Q-BRIDGE-MIB', 'dot1qTpFdbPort', `${dot1q}.2.2.1.2`, stationBytes),
  dot1qTpFdbStatus: snmpObject(
    'Q-BRIDGE-MIB',
    'dot1qTpFdbStatus',
    `${dot1q}.2.2.1.3`,
    stationBytes,
  ),
  dot1dTpFdbPort: snmpObject('BRIDGE-MIB', 'dot1dTpFdbPort', `${dot1d}.4.3.1.2`, stationBytes),
  dot1dTpFdbStatus: snmpObject('BRIDGE-MIB', 'dot1dTpFdbStatus', `${dot1d}.4.3.1.3`, stationBytes),
} as const;
