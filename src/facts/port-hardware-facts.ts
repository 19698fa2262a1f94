import type { FactEntry } from './entry.ts';

/** What a reader learns of the adapter, its bus, its medium and its module. */
export const portHardwareFacts = {
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
    label: 'whether it saves energy while idle',
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
} as const satisfies Record<string, FactEntry>;

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
