import type { FactEntry, FactsOf } from './entry.ts';
import { portBridgeFacts } from './port-bridge-facts.ts';

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
    absentWhen: 'link down, unknown, or not believable',
    sources: ['/sys/class/net/*/speed', 'ethtool Speed', 'ifconfig media', 'IF-MIB ifHighSpeed'],
  },
  duplex: {
    type: 'text',
    origin: 'read',
    meaning: '`full` or `half`',
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
  driver: {
    type: 'text',
    origin: 'read',
    meaning: 'Name of the driver',
    absentWhen: 'the system does not say',
    sources: ['ethtool -i driver'],
  },
  driverVersion: {
    type: 'text',
    origin: 'read',
    meaning: 'Version of the driver as it words it',
    absentWhen: 'the system does not say',
    sources: [
      'ethtool -i version',
      'Get-NetAdapter DriverVersionString',
      'system_profiler SPEthernetDataType',
    ],
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
  carrierChanges: {
    type: 'number',
    origin: 'read',
    varies: 'counter',
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
    sources: ['ip -d link linkinfo', '/proc/net/vlan/config', 'ifconfig vlan'],
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
    'netstat -ibdnW Idrop',
  ]),
  txDropped: counter('frames', 'Frames thrown away before sending', [
    'statistics/tx_dropped',
    'IF-MIB ifOutDiscards',
    'netstat -ibdnW Drop',
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
  rxOversize: counter('frames', 'Frames with a right FCS that are longer than 1518 octets', [
    'RMON-MIB etherStatsOversizePkts',
  ]),
  rxFragments: counter('frames', 'Frames with a wrong FCS that are shorter than 64 octets', [
    'RMON-MIB etherStatsFragments',
  ]),
  rxJabbers: counter('frames', 'Frames with a wrong FCS that are longer than 1518 octets', [
    'RMON-MIB etherStatsJabbers',
  ]),
  forwardTooLong: counter('frames', 'Frames not forwarded because they are too long', [
    'BRIDGE-MIB dot1dBasePortMtuExceededDiscards',
  ]),
  rxSymbolErrors: counter('events', 'Coding errors of the physical layer', [
    'EtherLike-MIB dot3StatsSymbolErrors',
    'ethtool -S symbol errors',
  ]),
  lateCollisions: counter('frames', 'Collisions after the slot time; none in full duplex', [
    'EtherLike-MIB dot3StatsLateCollisions',
    'ethtool -S late collisions',
  ]),
  busText: {
    type: 'text',
    origin: 'read',
    meaning:
      'Host bus of the adapter as the system words it: `PCIe 8.0 GT/s x4`, `USB 5000 Mb/s`, `Thunderbolt 40 Gb/s`',
    absentWhen: 'the system does not say, or the port has none',
    sources: ['/sys/class/net/*/device', 'system_profiler'],
  },
  busMbps: {
    type: 'number',
    origin: 'read',
    unit: 'Mb/s',
    meaning: 'What that bus link carries in one direction after line coding',
    absentWhen: 'the bus is not known',
    sources: ['/sys/class/net/*/device current_link_speed, current_link_width or speed'],
  },
  busMaxMbps: {
    type: 'number',
    origin: 'read',
    unit: 'Mb/s',
    meaning: 'What slot and adapter could agree on, in one direction after line coding',
    absentWhen: 'the system does not say',
    sources: ['/sys/class/net/*/device max_link_speed, max_link_width'],
  },
  phyText: {
    type: 'text',
    origin: 'read',
    meaning: 'Medium in use as IEEE 802.3 names it, `10GBASE-T`',
    absentWhen: 'link down, or the system does not say',
    sources: ['MAU-MIB ifMauType', 'ethtool', 'ethtool -m'],
  },
  moduleText: {
    type: 'text',
    origin: 'read',
    meaning: 'Type of the module in the port, as it says itself',
    absentWhen: 'there is none, or it does not say',
    sources: ['ethtool -m Transceiver type', 'ifconfig -v plugged'],
  },
  rxPowerDbm: optic('Light that the module receives; -40 where it measures none'),
  txPowerDbm: optic('Light that the module sends; -40 where it measures none'),
  rxPowerLowDbm: optic("The module's own warning limit of too little light received"),
  rxPowerHighDbm: optic("The module's own warning limit of too much light received"),
  txPowerLowDbm: optic("The module's own warning limit of too little light sent"),
  txPowerHighDbm: optic("The module's own warning limit of too much light sent"),
  moduleTemperatureCelsius: {
    type: 'number',
    origin: 'read',
    unit: 'degrees Celsius',
    varies: 'measure',
    meaning: 'Temperature of the module',
    absentWhen: 'there is none, or it does not measure',
    sources: [
      'ethtool -m Module temperature',
      'ENTITY-SENSOR-MIB entPhySensorValue',
      'ifconfig -v module temperature',
    ],
  },
  pauseRx: {
    type: 'flag',
    origin: 'read',
    meaning: 'Pause frames are honoured, after negotiation',
    absentWhen: 'the system does not say',
    sources: ['ethtool -a RX negotiated', 'EtherLike-MIB dot3PauseOperMode'],
  },
  pauseTx: {
    type: 'flag',
    origin: 'read',
    meaning: 'Pause frames are sent, after negotiation',
    absentWhen: 'the system does not say',
    sources: ['ethtool -a TX negotiated', 'EtherLike-MIB dot3PauseOperMode'],
  },
  rxPauseFrames: counter('frames', 'Pause frames received', [
    'EtherLike-MIB dot3InPauseFrames',
    'ethtool --include-statistics -a rx_pause_frames',
  ]),
  txPauseFrames: counter('frames', 'Pause frames sent', [
    'EtherLike-MIB dot3OutPauseFrames',
    'ethtool --include-statistics -a tx_pause_frames',
  ]),
  eeeEnabled: {
    type: 'flag',
    origin: 'read',
    meaning: 'Energy-Efficient Ethernet is switched on',
    absentWhen: 'the system does not say',
    sources: ['ethtool --show-eee EEE status'],
  },
  eeeActive: {
    type: 'flag',
    origin: 'read',
    meaning: 'Energy-Efficient Ethernet was agreed with the partner and is in use',
    absentWhen: 'the system does not say',
    sources: ['ethtool --show-eee EEE status'],
  },
  fecText: {
    type: 'text',
    origin: 'read',
    meaning: 'Forward error correction in use, as the system words it',
    absentWhen: 'the system does not say',
    sources: ['ethtool --show-fec Active FEC encoding'],
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
  linkDownEvents: {
    type: 'number',
    origin: 'read',
    varies: 'counter',
    meaning: 'How often the link went down since the driver was loaded',
    absentWhen: 'the system does not count',
    sources: ['ethtool -S link down events', 'ethtool Link Down Events'],
  },
  ...portBridgeFacts,
} as const satisfies Record<string, FactEntry>;

function counter(unit: string, meaning: string, sources: readonly string[]) {
  return {
    type: 'number',
    origin: 'read',
    unit,
    varies: 'counter',
    meaning: `${meaning}, since the counter was last reset`,
    absentWhen: 'the system does not count it',
    sources,
  } as const;
}

function optic(meaning: string) {
  return {
    type: 'number',
    origin: 'read',
    unit: 'dBm',
    varies: 'measure',
    meaning,
    absentWhen: 'no module that measures, or nobody may read it',
    sources: ['ethtool -m (SFF-8472, SFF-8636)', 'ENTITY-SENSOR-MIB entPhySensorValue'],
  } as const;
}

/** What a reader learns of a port; every fact may be absent. */
export type PortReadFacts = FactsOf<typeof portReadFacts>;
