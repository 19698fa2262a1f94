import type { FactEntry, FactsOf } from './entry.ts';
import { portBridgeFacts } from './port-bridge-facts.ts';
import { portCounterFacts } from './port-counter-facts.ts';
import { portHardwareFacts } from './port-hardware-facts.ts';

/** What a reader learns of one port. */
export const portReadFacts = {
  alias: {
    type: 'text',
    origin: 'read',
    meaning: 'Description that an operator gave the port',
    absentWhen: 'none was given',
    sources: ['IF-MIB ifAlias', 'networksetup -listallhardwareports', '/sys/class/net/*/ifalias'],
  },
  kind: {
    type: 'text',
    origin: 'read',
    meaning:
      '`physical`, `vlan`, `bridge`, `bond`, `wireless`, `loopback`, `tunnel` or `virtual` (any other without a device behind it)',
    sources: ['ip -d link linkinfo', '/sys/class/net', 'IF-MIB ifType and ifConnectorPresent'],
  },
  macAddress: {
    type: 'text',
    origin: 'read',
    meaning: 'MAC address in use, lower case with colons',
    absentWhen: 'the port has none',
    sources: ['ip link address', 'ifconfig ether', 'IF-MIB ifPhysAddress'],
  },
  permanentMacAddress: {
    type: 'text',
    origin: 'read',
    meaning: 'MAC address burnt into the hardware, lower case with colons',
    absentWhen: 'the system does not say',
    sources: ['ip link permaddr', '/sys/class/net/*/address with addr_assign_type 0'],
  },
  ifIndex: {
    type: 'number',
    origin: 'read',
    varies: 'run',
    meaning: 'Interface index of this run; may change at reboot',
    sources: ['ip link ifindex', 'IF-MIB ifIndex'],
  },
  ifType: {
    type: 'number',
    origin: 'read',
    meaning: 'IANAifType number',
    absentWhen: 'not read over SNMP',
    sources: ['IF-MIB ifType'],
  },
  adminUp: {
    type: 'flag',
    origin: 'read',
    meaning: 'The port is switched on by configuration',
    label: 'whether it is switched on',
    sources: ['ip link flag UP', 'ifconfig flag UP', 'IF-MIB ifAdminStatus'],
  },
  operUp: {
    type: 'flag',
    origin: 'read',
    meaning: 'The link is up',
    label: 'whether it has a link',
    absentWhen: 'the system answers `unknown`',
    sources: ['ip link flag LOWER_UP', 'ifconfig status', 'IF-MIB ifOperStatus'],
  },
  linkText: {
    type: 'text',
    origin: 'read',
    meaning: "The system's own words on why the link is down",
    absentWhen: 'it says nothing',
    sources: ['ethtool Link detected'],
  },
  mtuBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning:
      'What the node calls the MTU of the port. On hosts the largest IP packet; on switches it may count header, FCS and tag (see mtuCounts of the intent)',
    absentWhen: 'not read, or doubtful',
    sources: [
      'ip link mtu',
      '/sys/class/net/*/mtu',
      'ifconfig mtu',
      'IF-MIB ifMtu',
      'Get-NetIPInterface NlMtu',
    ],
  },
  mtuMinBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning: 'Smallest MTU that the driver accepts',
    absentWhen: 'the driver does not say',
    sources: ['ip -d link min_mtu', 'networksetup -listValidMTURange'],
  },
  mtuMaxBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning: 'Largest MTU that the driver accepts; it may still not pass on the wire',
    absentWhen: 'the driver does not say, or says 0',
    sources: ['ip -d link max_mtu', 'ifconfig -v max mtu', 'networksetup -listValidMTURange'],
  },
  mtuConfiguredBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning: 'MTU that the configuration asks for, where it differs in kind from the one in use',
    absentWhen: 'the system does not keep the two apart',
    sources: ['networksetup -getMTU Current Setting'],
  },
  speedMbps: {
    type: 'number',
    origin: 'read',
    unit: 'Mb/s',
    meaning: 'Speed in use of one port; of an aggregate, what its system reports',
    label: 'at which speed it runs',
    absentWhen: 'link down, unknown, or not believable',
    sources: ['/sys/class/net/*/speed', 'ethtool Speed', 'ifconfig media', 'IF-MIB ifHighSpeed'],
  },
  duplex: {
    type: 'text',
    origin: 'read',
    meaning: '`full` or `half`',
    label: 'in which duplex it runs',
    absentWhen: 'link down or unknown',
    sources: [
      '/sys/class/net/*/duplex',
      'ethtool Duplex',
      'ifconfig media',
      'EtherLike-MIB',
      'MAU-MIB ifMauType',
    ],
  },
  autoNegotiation: {
    type: 'flag',
    origin: 'read',
    meaning: 'Auto-negotiation is switched on',
    absentWhen: 'the system does not say',
    sources: [
      'ethtool Auto-negotiation',
      'ifconfig media autoselect',
      'MAU-MIB ifMauAutoNegAdminStatus',
    ],
  },
  supportedModes: {
    type: 'texts',
    origin: 'read',
    meaning:
      'Link modes that the port can do, as the system spells them; those of a switch as ethtool spells them',
    absentWhen: 'the system does not say',
    sources: [
      'ethtool Supported link modes',
      'ifconfig -m supported media',
      'MAU-MIB ifMauAutoNegCapabilityBits',
    ],
  },
  advertisedModes: {
    type: 'texts',
    origin: 'read',
    meaning: 'Link modes that the port offers to its partner',
    absentWhen: 'the system does not say',
    sources: ['ethtool Advertised link modes', 'MAU-MIB ifMauAutoNegCapAdvertisedBits'],
  },
  partnerModes: {
    type: 'texts',
    origin: 'read',
    meaning: 'Link modes that the partner offers',
    absentWhen: 'the system does not say',
    sources: ['ethtool Link partner advertised link modes', 'MAU-MIB ifMauAutoNegCapReceivedBits'],
  },
  mediaText: {
    type: 'text',
    origin: 'read',
    meaning: 'Medium as the system words it; of a switch what one plugs in',
    absentWhen: 'the system does not say',
    sources: ['ethtool Port', 'ifconfig media', 'MAU-MIB ifJackType'],
  },
  driverMtuBytes: {
    type: 'number',
    origin: 'read',
    unit: 'bytes',
    meaning:
      "IP packet that the driver's own setting for large frames allows, header and FCS taken off where its number counts them",
    absentWhen: 'the system keeps no such setting beside the MTU',
    sources: ['Get-NetAdapterAdvancedProperty *JumboPacket', 'registry *JumboPacket'],
  },
  lowerPorts: {
    type: 'texts',
    origin: 'read',
    meaning:
      'Ports that this one is built on: the parent of a VLAN, the members of a bridge or bond',
    absentWhen: 'built on none',
    sources: ['ip link link and master', '/sys/class/net/*/lower_*', 'ifconfig', 'IF-MIB ifStack'],
  },
  vlanId: {
    type: 'number',
    origin: 'read',
    meaning: 'VLAN of a VLAN interface',
    absentWhen: 'not a VLAN interface',
    sources: ['ip -d link linkinfo', '/proc/net/vlan/config', 'ifconfig vlan'],
  },
  addresses: {
    type: 'texts',
    origin: 'read',
    meaning: 'IP addresses with prefix length, as `198.18.0.1/24`; link-local ones left out',
    absentWhen: 'the access does not tell; an empty list means none',
    sources: ['ip addr', 'ifconfig inet and inet6', 'IP-MIB'],
  },
  partnerAutoNegotiation: {
    type: 'flag',
    origin: 'read',
    meaning: 'The partner was seen to negotiate',
    absentWhen: 'the system does not say',
    sources: [
      'ethtool Link partner advertised auto-negotiation',
      'MAU-MIB ifMauAutoNegRemoteSignaling',
    ],
  },
  ...portHardwareFacts,
  ...portBridgeFacts,
  ...portCounterFacts,
} as const satisfies Record<string, FactEntry>;

/** What a reader learns of a port; every fact may be absent. */
export type PortReadFacts = FactsOf<typeof portReadFacts>;
