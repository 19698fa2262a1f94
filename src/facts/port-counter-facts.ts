import type { FactEntry } from './entry.ts';

/** What a port counts. */
export const portCounterFacts = {
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
  rxPauseFrames: counter('frames', 'Pause frames received', [
    'EtherLike-MIB dot3InPauseFrames',
    'ethtool --include-statistics -a rx_pause_frames',
  ]),
  txPauseFrames: counter('frames', 'Pause frames sent', [
    'EtherLike-MIB dot3OutPauseFrames',
    'ethtool --include-statistics -a tx_pause_frames',
  ]),
  carrierChanges: {
    type: 'number',
    origin: 'read',
    varies: 'counter',
    meaning: 'How often the link came or went since the driver was loaded',
    absentWhen: 'the system does not count',
    sources: ['/sys/class/net/*/carrier_changes'],
  },
  linkDownEvents: {
    type: 'number',
    origin: 'read',
    varies: 'counter',
    meaning: 'How often the link went down since the driver was loaded',
    absentWhen: 'the system does not count',
    sources: ['ethtool -S link down events', 'ethtool Link Down Events'],
  },
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
