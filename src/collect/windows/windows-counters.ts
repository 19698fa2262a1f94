import { found, gap, type PortDraft, type Settled } from '../unix/draft.ts';
import { numberOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { cell, type WindowsEvidence } from './windows-sections.ts';

/** Facts that Windows counts. */
export type WindowsCounters = Pick<
  PortDraft,
  | 'rxOctets'
  | 'txOctets'
  | 'rxFrames'
  | 'txFrames'
  | 'rxErrors'
  | 'txErrors'
  | 'rxDropped'
  | 'txDropped'
>;

/** Columns of Get-NetAdapterStatistics and of .NET that are added up for each fact. */
const columns: Readonly<
  Record<keyof WindowsCounters, readonly [readonly string[], readonly string[]]>
> = {
  rxOctets: [['ReceivedBytes'], ['BytesReceived']],
  txOctets: [['SentBytes'], ['BytesSent']],
  rxFrames: [
    ['ReceivedUnicastPackets', 'ReceivedMulticastPackets', 'ReceivedBroadcastPackets'],
    ['UnicastReceived', 'OtherReceived'],
  ],
  txFrames: [
    ['SentUnicastPackets', 'SentMulticastPackets', 'SentBroadcastPackets'],
    ['UnicastSent', 'OtherSent'],
  ],
  rxErrors: [['ReceivedPacketErrors'], ['ReceivedErrors']],
  txErrors: [['OutboundPacketErrors'], ['SentErrors']],
  rxDropped: [['ReceivedDiscardedPackets'], ['ReceivedDiscards']],
  txDropped: [['OutboundDiscardedPackets'], ['SentDiscards']],
};

/** Counters of an adapter, by the cmdlet, or by .NET where the account may not ask that. */
export function windowsCounters(evidence: WindowsEvidence): WindowsCounters {
  const entries = Object.entries(columns).map(([fact, [byCmdlet, byOwn]]) => [
    fact,
    counter(evidence, byCmdlet, byOwn),
  ]);
  return Object.fromEntries(entries) as WindowsCounters;
}

function counter(
  { statistics, own }: WindowsEvidence,
  byCmdlet: readonly string[],
  byOwn: readonly string[],
): Settled<number> {
  const cmdlet = sum(byCmdlet.map((key) => cell(statistics, key, numberOf)));
  if (cmdlet !== undefined)
    return found(cmdlet, `Get-NetAdapterStatistics ${byCmdlet.join(' + ')}`);
  const net = sum(byOwn.map((key) => cell(own, key, numberOf)));
  if (net !== undefined) return found(net, '.NET GetIPStatistics');
  if (statistics !== undefined && isGap(statistics)) return statistics;
  return gap('unsupported', 'Windows does not count it here');
}

/** Undefined where a part is missing: a part is no whole. */
function sum(parts: readonly (number | undefined)[]): number | undefined {
  let total = 0;
  for (const part of parts) {
    if (part === undefined) return undefined;
    total += part;
  }
  return Number.isSafeInteger(total) ? total : undefined;
}
