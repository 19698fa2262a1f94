import type { FactEntry, FactsOf } from './entry.ts';

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
    sources: ['ip link flag UP', 'ifconfig flag UP', 'IF-MIB ifAdminStatus'],
  },
  operUp: {
    type: 'flag',
    origin: 'read',
    meaning: 'The link is up',
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
    sources: ['ip link mtu', '/sys/class/net/*/mtu', 'ifconfig mtu', 'IF-MIB ifMtu'],
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
    absentWhen: 'link down, unknown, or not believable',
    sources: ['/sys/class/net/*/speed', 'ethtool Speed', 'ifconfig media', 'IF-MIB ifHighSpeed'],
  },
  duplex: {
    type: 'text',
    origin: 'read',
    meaning: '`full` or `half`',
    absentWhen: 'link down or unknown',
    sources: ['/sys/class/net/*/duplex', 'ethtool Duplex', 'ifconfig media', 'EtherLike-MIB'],
  },
  autoNegotiation: {
    type: 'flag',
    origin: 'read',
    meaning: 'Auto-negotiation is switched on',
    absentWhen: 'the system does not say',
    sources: ['ethtool Auto-negotiation', 'ifconfig media autoselect'],
  },
  supportedModes: {
    type: 'texts',
    origin: 'read',
    meaning: 'Link modes that the port can do, as the system spells them',
    absentWhen: 'the system does not say',
    sources: ['ethtool Supported link modes', 'ifconfig -m supported media'],
  },
  advertisedModes: {
    type: 'texts',
    origin: 'read',
    meaning: 'Link modes that the port offers to its partner',
    absentWhen: 'the system does not say',
    sources: ['ethtool Advertised link modes'],
  },
  partnerModes: {
    type: 'texts',
    origin: 'read',
    meaning: 'Link modes that the partner offers',
    absentWhen: 'the system does not say',
    sources: ['ethtool Link partner advertised link modes'],
  },
  mediaText: {
    type: 'text',
    origin: 'read',
    meaning: 'Medium as the system words it',
    absentWhen: 'the system does not say',
    sources: ['ethtool Port', 'ifconfig media'],
  },
  driver: {
    type: 'text',
    origin: 'read',
    meaning: 'Name of the driver',
    absentWhen: 'the system does not say',
    sources: ['ethtool -i driver'],
  },
  carrierChanges: {
    type: 'number',
    origin: 'read',
    meaning: 'How often the link came or went since the driver was loaded',
    absentWhen: 'the system does not count',
    sources: ['/sys/class/net/*/carrier_changes'],
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
    sources: ['ip -d link linkinfo', 'ifconfig vlan'],
  },
  addresses: {
    type: 'texts',
    origin: 'read',
    meaning: 'IP addresses with prefix length, as `198.18.0.1/24`; link-local ones left out',
    absentWhen: 'the access does not tell; an empty list means none',
    sources: ['ip addr', 'ifconfig inet and inet6', 'IP-MIB'],
  },
  rxOctets: counter('octets', 'Octets received', ['statistics/rx_bytes', 'IF-MIB ifHCInOctets']),
  txOctets: counter('octets', 'Octets sent', ['statistics/tx_bytes', 'IF-MIB ifHCOutOctets']),
  rxFrames: counter('frames', 'Frames received', [
    'statistics/rx_packets',
    'IF-MIB ifHCInUcastPkts and its multicast and broadcast twins',
  ]),
  txFrames: counter('frames', 'Frames sent', ['statistics/tx_packets']),
  rxErrors: counter('frames', 'Frames received in error', [
    'statistics/rx_errors',
    'IF-MIB ifInErrors',
    'netstat -ibn Ierrs',
  ]),
  txErrors: counter('frames', 'Frames that could not be sent', [
    'statistics/tx_errors',
    'IF-MIB ifOutErrors',
    'netstat -ibn Oerrs',
  ]),
  rxDropped: counter('frames', 'Good frames received and thrown away', [
    'statistics/rx_dropped',
    'IF-MIB ifInDiscards',
  ]),
  txDropped: counter('frames', 'Frames thrown away before sending', [
    'statistics/tx_dropped',
    'IF-MIB ifOutDiscards',
  ]),
  rxCrcErrors: counter('frames', 'Frames with a wrong check sequence (FCS)', [
    'statistics/rx_crc_errors',
    'EtherLike-MIB dot3StatsFCSErrors',
  ]),
  rxAlignmentErrors: counter('frames', 'Frames that are not a whole number of octets', [
    'statistics/rx_frame_errors',
    'EtherLike-MIB dot3StatsAlignmentErrors',
  ]),
  rxTooLong: counter('frames', 'Frames longer than the port takes', [
    'statistics/rx_length_errors',
    'EtherLike-MIB dot3StatsFrameTooLongs',
  ]),
  rxSymbolErrors: counter('events', 'Coding errors of the physical layer', [
    'EtherLike-MIB dot3StatsSymbolErrors',
  ]),
  lateCollisions: counter('frames', 'Collisions after the slot time; none in full duplex', [
    'EtherLike-MIB dot3StatsLateCollisions',
    'ethtool -S late collisions',
  ]),
} as const satisfies Record<string, FactEntry>;

function counter(unit: string, meaning: string, sources: readonly string[]) {
  return {
    type: 'number',
    origin: 'read',
    unit,
    meaning: `${meaning}, since the counter was last reset`,
    absentWhen: 'the system does not count it',
    sources,
  } as const;
}

/** What a reader learns of a port; every fact may be absent. */
export type PortReadFacts = FactsOf<typeof portReadFacts>;

/** What intent and survey together say of a port. */
export const portDerivedFacts = {
  id: {
    type: 'text',
    origin: 'derived',
    meaning: 'Node and port, as `quay-sw:xg2`; the alias of the intent where it has one',
    sources: ['intent'],
  },
  node: { type: 'text', origin: 'declared', meaning: 'Name of its node', sources: ['intent'] },
  name: {
    type: 'text',
    origin: 'derived',
    meaning: "The node's own name of the port",
    absentWhen: 'declared by alias and not found',
    sources: ['survey'],
  },
  found: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared port exists on its node',
    absentWhen: 'the node could not be read',
    sources: ['survey against intent'],
  },
  nearestName: {
    type: 'text',
    origin: 'derived',
    meaning: 'The port of the node whose name is nearest to the declared one',
    absentWhen: 'the port was found, or the node has no ports',
    sources: ['survey against intent'],
  },
  unread: {
    type: 'flag',
    origin: 'declared',
    meaning:
      'True for a port of a node that nobody logs in to; what is read of other ports is then absent without a reason',
    sources: ['intent nodes.*.unread'],
  },
  mayBeDown: {
    type: 'flag',
    origin: 'derived',
    meaning:
      'A node at an end of its link is declared to sleep or to be absent at times, and gave no answer: no link is then no fault',
    sources: ['intent nodes.*.sleeps and mayBeAbsent, readings of the survey'],
  },
  onSwitch: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The node forwards frames in layer 2',
    sources: ['intent nodes.*.role'],
  },
  virtual: {
    type: 'flag',
    origin: 'derived',
    meaning: 'No hardware of its own: its speed and duplex mean nothing and are not judged',
    absentWhen: 'the kind of port could not be read',
    sources: ['port.kind, port.driver'],
  },
  linked: {
    type: 'flag',
    origin: 'derived',
    meaning: 'A link of the intent ends here (false: a layer above such a port)',
    sources: ['intent links'],
  },
  linkId: {
    type: 'text',
    origin: 'derived',
    meaning: 'The link that ends here',
    absentWhen: 'none does',
    sources: ['intent links'],
  },
  farPort: {
    type: 'text',
    origin: 'derived',
    meaning: 'The port at the other end of its link',
    absentWhen: 'no link ends here',
    sources: ['intent links'],
  },
  labels: {
    type: 'text',
    origin: 'declared',
    meaning: 'Labels of the run to touch, in order from this port',
    absentWhen: 'no run is declared, or it has no labels',
    sources: ['intent links.*.run'],
  },
  segments: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Segments that the port carries',
    sources: ['intent links tagged and untagged'],
  },
  tags: {
    type: 'number',
    origin: 'derived',
    meaning: 'VLAN tags on its frames at most',
    absentWhen: 'the intent declares neither tagged nor untagged segments',
    sources: ['intent links tagged and untagged'],
  },
  addressed: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The port has an IP address in a declared path or segment',
    absentWhen: 'addresses could not be read',
    sources: ['port.addresses, routes to the peers'],
  },
  declaredSpeedMbps: {
    type: 'number',
    origin: 'declared',
    unit: 'Mb/s',
    meaning: 'Speed that the link is declared to run at',
    absentWhen: 'none is declared',
    sources: ['intent links.*.speed'],
  },
  declaredDuplex: {
    type: 'text',
    origin: 'declared',
    meaning: 'Duplex that the link is declared to run at; `full` unless the intent says `half`',
    absentWhen: 'no link ends here',
    sources: ['intent links.*.duplex'],
  },
  declaredMtuBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Largest IP packet that a declared path or segment wants through this port',
    absentWhen: 'none wants any',
    sources: ['intent segments.*.mtu, paths.*.mtu'],
  },
  passesAtLeastBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet that passes whatever the MTU counts',
    absentWhen: 'the MTU could not be read or is doubtful',
    sources: ['port.mtuBytes, intent mtuCounts, tags'],
  },
  passesAtMostBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'IP packet beyond which nothing passes, whatever the MTU counts',
    absentWhen: 'the MTU could not be read or is doubtful',
    sources: ['port.mtuBytes, intent mtuCounts, tags'],
  },
  carriesDeclaredMtu: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared packet passes this port',
    absentWhen:
      'the MTU is not known, or what it counts decides; absent without a reason: none is declared',
    sources: ['port.passesAtLeastBytes, port.passesAtMostBytes, port.declaredMtuBytes'],
  },
  smallestLayer: {
    type: 'text',
    origin: 'derived',
    meaning: 'Of this port and the ports it is built on, the one with the smallest MTU',
    absentWhen: 'built on none, or a layer could not be read',
    sources: ['port.lowerPorts, port.mtuBytes'],
  },
  smallestLayerMtuBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'MTU of the smallest layer',
    absentWhen: 'built on none, or a layer could not be read',
    sources: ['port.lowerPorts, port.mtuBytes'],
  },
  membersDownPorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Members of a bond or aggregate that have no link',
    absentWhen: 'no aggregate, or a member could not be read',
    sources: ['port.lowerPorts, port.operUp'],
  },
  membersDownLink: {
    type: 'text',
    origin: 'derived',
    meaning: 'The link of the first of `membersDownPorts`',
    absentWhen: 'none is down, or no link of the intent ends there',
    sources: ['port.membersDownPorts, port.linkId'],
  },
} as const satisfies Record<string, FactEntry>;

/** All facts of a port. */
export const portFacts = { ...portReadFacts, ...portDerivedFacts } as const;
