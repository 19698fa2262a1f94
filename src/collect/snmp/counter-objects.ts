import { counterBytes, snmpObject } from './snmp-object.ts';

const etherStats = '1.3.6.1.2.1.16.1.1.1';
const dot3HCStats = '1.3.6.1.2.1.10.7.11.1';

/** Columns of RMON by its own index; the data source names the port (RFC 2819). */
export const rmonColumns = {
  etherStatsDataSource: snmpObject(
    'RMON-MIB',
    'etherStatsDataSource',
    `${etherStats}.2`,
    counterBytes + 8,
  ),
  etherStatsOversizePkts: snmpObject('RMON-MIB', 'etherStatsOversizePkts', `${etherStats}.10`),
  etherStatsFragments: snmpObject('RMON-MIB', 'etherStatsFragments', `${etherStats}.11`),
  etherStatsJabbers: snmpObject('RMON-MIB', 'etherStatsJabbers', `${etherStats}.12`),
} as const;

/** 64-bit twins of the error counters, by ifIndex (RFC 3635). */
export const wideColumns = {
  dot3HCStatsAlignmentErrors: snmpObject(
    'EtherLike-MIB',
    'dot3HCStatsAlignmentErrors',
    `${dot3HCStats}.1`,
    counterBytes,
  ),
  dot3HCStatsFCSErrors: snmpObject(
    'EtherLike-MIB',
    'dot3HCStatsFCSErrors',
    `${dot3HCStats}.2`,
    counterBytes,
  ),
  dot3HCStatsFrameTooLongs: snmpObject(
    'EtherLike-MIB',
    'dot3HCStatsFrameTooLongs',
    `${dot3HCStats}.4`,
    counterBytes,
  ),
  dot3HCStatsSymbolErrors: snmpObject(
    'EtherLike-MIB',
    'dot3HCStatsSymbolErrors',
    `${dot3HCStats}.6`,
    counterBytes,
  ),
} as const;
