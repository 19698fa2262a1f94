import { type SnmpObject, snmpObject, textBytes } from './snmp-object.ts';

/** What an agent that speaks one version of the LLDP modules has of its neighbours. */
export interface LldpObjects {
  readonly remote: Readonly<
    Record<
      | 'chassisKind'
      | 'chassis'
      | 'portKind'
      | 'port'
      | 'portText'
      | 'systemName'
      | 'systemText'
      | 'capabilities',
      SnmpObject
    >
  >;
  /** Indexed by neighbour, then kind and octets of an address. */
  readonly address: SnmpObject;
  /** IEEE 802.3 extension. */
  readonly dot3: Readonly<Record<'auto' | 'offers' | 'mau' | 'frameMax', SnmpObject>>;
  /** IEEE 802.1 extension. */
  readonly vlan: SnmpObject;
  /** Has a row for each of the agent's own ports, whether or not anybody is heard there. */
  readonly presence: SnmpObject;
  /** The agent's own ports. Absent: neighbours are indexed by ifIndex. */
  readonly local?: Readonly<Record<'kind' | 'id' | 'text', SnmpObject>>;
  /** Numbers in the index of a neighbour; the second is that of the local port. */
  readonly indexLength: 3 | 4;
}

const v1 = '1.0.8802.1.1.2.1';
const v2 = '1.3.111.2.802.1.1.13.1';

/** LLDP-MIB and its extensions (IEEE 802.1AB-2005), indexed TimeMark.LocalPortNum.RemIndex. */
export const lldpObjects: LldpObjects & { readonly local: NonNullable<LldpObjects['local']> } = {
  remote: {
    chassisKind: snmpObject('LLDP-MIB', 'lldpRemChassisIdSubtype', `${v1}.4.1.1.4`),
    chassis: snmpObject('LLDP-MIB', 'lldpRemChassisId', `${v1}.4.1.1.5`, textBytes),
    portKind: snmpObject('LLDP-MIB', 'lldpRemPortIdSubtype', `${v1}.4.1.1.6`),
    port: snmpObject('LLDP-MIB', 'lldpRemPortId', `${v1}.4.1.1.7`, textBytes),
    portText: snmpObject('LLDP-MIB', 'lldpRemPortDesc', `${v1}.4.1.1.8`, textBytes),
    systemName: snmpObject('LLDP-MIB', 'lldpRemSysName', `${v1}.4.1.1.9`, textBytes),
    systemText: snmpObject('LLDP-MIB', 'lldpRemSysDesc', `${v1}.4.1.1.10`, 100),
    capabilities: snmpObject('LLDP-MIB', 'lldpRemSysCapEnabled', `${v1}.4.1.1.12`),
  },
  address: snmpObject('LLDP-MIB', 'lldpRemManAddrIfSubtype', `${v1}.4.2.1.3`, textBytes),
  dot3: {
    auto: snmpObject(
      'LLDP-EXT-DOT3-MIB',
      'lldpXdot3RemPortAutoNegEnabled',
      `${v1}.5.4623.1.3.1.1.2`,
    ),
    offers: snmpObject(
      'LLDP-EXT-DOT3-MIB',
      'lldpXdot3RemPortAutoNegAdvertisedCap',
      `${v1}.5.4623.1.3.1.1.3`,
    ),
    mau: snmpObject('LLDP-EXT-DOT3-MIB', 'lldpXdot3RemPortOperMauType', `${v1}.5.4623.1.3.1.1.4`),
    frameMax: snmpObject('LLDP-EXT-DOT3-MIB', 'lldpXdot3RemMaxFrameSize', `${v1}.5.4623.1.3.4.1.1`),
  },
  vlan: snmpObject('LLDP-EXT-DOT1-MIB', 'lldpXdot1RemPortVlanId', `${v1}.5.32962.1.3.1.1.1`),
  presence: snmpObject('LLDP-MIB', 'lldpLocPortIdSubtype', `${v1}.3.7.1.2`),
  local: {
    kind: snmpObject('LLDP-MIB', 'lldpLocPortIdSubtype', `${v1}.3.7.1.2`),
    id: snmpObject('LLDP-MIB', 'lldpLocPortId', `${v1}.3.7.1.3`, textBytes),
    text: snmpObject('LLDP-MIB', 'lldpLocPortDesc', `${v1}.3.7.1.4`, textBytes),
  },
  indexLength: 3,
};

/**
 * LLDP-V2-MIB and its extensions (IEEE 802.1AB-2009), indexed
 * TimeMark.LocalIfIndex.DestMACAddressIndex.RemIndex. The 802.1 extension is from memory.
 */
export const lldpV2Objects: LldpObjects = {
  remote: {
    chassisKind: snmpObject('LLDP-V2-MIB', 'lldpV2RemChassisIdSubtype', `${v2}.4.1.1.5`),
    chassis: snmpObject('LLDP-V2-MIB', 'lldpV2RemChassisId', `${v2}.4.1.1.6`, textBytes),
    portKind: snmpObject('LLDP-V2-MIB', 'lldpV2RemPortIdSubtype', `${v2}.4.1.1.7`),
    port: snmpObject('LLDP-V2-MIB', 'lldpV2RemPortId', `${v2}.4.1.1.8`, textBytes),
    portText: snmpObject('LLDP-V2-MIB', 'lldpV2RemPortDesc', `${v2}.4.1.1.9`, textBytes),
    systemName: snmpObject('LLDP-V2-MIB', 'lldpV2RemSysName', `${v2}.4.1.1.10`, textBytes),
    systemText: snmpObject('LLDP-V2-MIB', 'lldpV2RemSysDesc', `${v2}.4.1.1.11`, 100),
    capabilities: snmpObject('LLDP-V2-MIB', 'lldpV2RemSysCapEnabled', `${v2}.4.1.1.13`),
  },
  address: snmpObject('LLDP-V2-MIB', 'lldpV2RemManAddrIfSubtype', `${v2}.4.2.1.3`, textBytes),
  dot3: {
    auto: snmpObject(
      'LLDP-EXT-DOT3-V2-MIB',
      'lldpV2Xdot3RemPortAutoNegEnabled',
      `${v2}.5.4623.1.3.1.1.2`,
    ),
    offers: snmpObject(
      'LLDP-EXT-DOT3-V2-MIB',
      'lldpV2Xdot3RemPortAutoNegAdvertisedCap',
      `${v2}.5.4623.1.3.1.1.3`,
    ),
    mau: snmpObject(
      'LLDP-EXT-DOT3-V2-MIB',
      'lldpV2Xdot3RemPortOperMauType',
      `${v2}.5.4623.1.3.1.1.4`,
    ),
    frameMax: snmpObject(
      'LLDP-EXT-DOT3-V2-MIB',
      'lldpV2Xdot3RemMaxFrameSize',
      `${v2}.5.4623.1.3.3.1.1`,
    ),
  },
  vlan: snmpObject('LLDP-EXT-DOT1-V2-MIB', 'lldpV2Xdot1RemPortVlanId', `${v2}.5.32962.1.3.1.1.1`),
  presence: snmpObject('LLDP-V2-MIB', 'lldpV2LocPortIdSubtype', `${v2}.3.7.1.2`),
  indexLength: 4,
};
