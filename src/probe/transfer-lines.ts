import { decimalNumber, firstGroup, present, wholeNumber } from '../collect/unix/text.ts';
import { cleanText } from '../facts/clean-text.ts';
import type {
  EndReport,
  TransferCpu,
  TransferFlow,
  TransferTick,
  TransferTool,
} from './transfer-types.ts';

/** Lines of one kind that are kept: a second each, and what follows the load. */
const ticksMax = 64;
const flowsMax = 16;

/** What an end has said before it says anything. */
export const silentEnd: EndReport = {
  ...{ begun: false, met: false, ended: false },
  ...{ ticks: [], flows: [] },
};

/** Takes one line of an end into its report. Lines that are none of its own change nothing. */
export function addTransferLine(report: EndReport, line: string, marker: string): EndReport {
  if (!line.startsWith(`${marker} `) || report.ended) return report;
  const [word = '', ...rest] = line.slice(marker.length + 1).split(' ');
  if (!report.begun && word !== 'begin') return report;
  return { ...report, ...told(report, word, rest) };
}

function told(report: EndReport, word: string, rest: readonly string[]): Partial<EndReport> {
  switch (word) {
    case 'begin':
      return { begun: true };
    case 'system':
      return { system: cleanText(rest.join(' '), 40) };
    case 'with':
      return isTool(rest[0]) ? { tool: rest[0] } : {};
    case 'port':
      return portOf(rest[0]);
    case 'echo':
      return present<EndReportPart>({ echoUs: wholeNumber(rest[0]) });
    case 'idle':
      return { met: true, ...present<EndReportPart>({ idleUs: valuesOf(rest).get('least') }) };
    case 'tick':
      return withTick(report, tickOf(rest));
    case 'flow':
      return { flows: [...report.flows, flowOf(rest)].slice(0, flowsMax) };
    case 'cpu':
      return { cpu: cpuOf(rest) };
    case 'got':
      return gotOf(rest);
    case 'sent':
      return sentOf(rest);
    case 'dd':
      return countedByDd(rest.join(' '));
    case 'ss':
      return seenBySs(report, rest.join(' '));
    case 'failed':
      return failureOf(rest);
    case 'end':
      return { ended: true };
    default:
      return {};
  }
}

type EndReportPart = Pick<EndReport, 'echoUs' | 'idleUs'>;

function isTool(word: string | undefined): word is TransferTool | 'nothing' {
  return word === 'perl' || word === 'python3' || word === 'nc' || word === 'nothing';
}

function portOf(text: string | undefined): Partial<EndReport> {
  const port = wholeNumber(text);
  return port !== undefined && port > 0 && port <= 65_535 ? { port } : {};
}

function valuesOf(pairs: readonly string[]): ReadonlyMap<string, number> {
  return new Map(
    pairs.flatMap((pair) => {
      const [name = '', text] = pair.split('=');
      const value = wholeNumber(text);
      return value === undefined ? [] : [[name, value] as const];
    }),
  );
}

function tickOf([ms, bytes, rtt]: readonly string[]): TransferTick | undefined {
  const [at, count] = [wholeNumber(ms), wholeNumber(bytes)];
  if (at === undefined || count === undefined) return undefined;
  return present<TransferTick>({ ms: at, bytes: count, rttUs: positive(wholeNumber(rtt)) });
}

/** Ticks go forward in time and in bytes; one that does not is no tick. */
function withTick({ ticks }: EndReport, tick: TransferTick | undefined): Partial<EndReport> {
  const last = ticks.at(-1);
  if (tick === undefined || ticks.length >= ticksMax) return {};
  if (last !== undefined && (tick.ms <= last.ms || tick.bytes < last.bytes)) return {};
  return { ticks: [...ticks, tick] };
}

function flowOf(pairs: readonly string[]): TransferFlow {
  const values = valuesOf(pairs);
  const stamps = values.get('stamps');
  return present<TransferFlow>({
    segmentBytes: positive(values.get('mss')),
    timestamps: stamps === undefined ? undefined : stamps !== 0,
    resentSegments: values.get('resent'),
    sentBytes: values.get('bytes'),
    resentBytes: values.get('again'),
    busyUs: values.get('busy'),
    windowUs: values.get('window'),
    bufferUs: values.get('buffer'),
  });
}

function cpuOf(words: readonly string[]): TransferCpu {
  const [own, busiest, all, cores] = words.map(wholeNumber);
  const share = (permille: number | undefined) =>
    permille === undefined ? undefined : permille / 1000;
  return present<TransferCpu>({
    own: share(own),
    busiest: share(busiest),
    all: share(all),
    cores: positive(cores),
  });
}

function gotOf([us, bytes, how]: readonly string[]): Partial<EndReport> {
  const [took, count] = [wholeNumber(us), wholeNumber(bytes)];
  if (took === undefined || count === undefined) return {};
  return { got: { us: took, bytes: count, cut: how !== 'whole' } };
}

function sentOf([us, bytes, by]: readonly string[]): Partial<EndReport> {
  const [took, count] = [wholeNumber(us), wholeNumber(bytes)];
  if (took === undefined || count === undefined || (by !== 'time' && by !== 'cap')) return {};
  return { sent: { us: took, bytes: count, by } };
}

/** Last line of `dd`, GNU: `655360 bytes (655 kB) copied, 0.5 s, 1 MB/s`; BSD: `... transferred in 0.5 secs`. */
function countedByDd(line: string): Partial<EndReport> {
  const bytes = wholeNumber(firstGroup(line, /^(\d{1,16}) bytes/));
  const seconds = decimalNumber(
    firstGroup(line, /(?:copied, |transferred in )(\d{1,5}(?:\.\d{1,6})?)\d* s/),
  );
  if (bytes === undefined || seconds === undefined) return {};
  return { got: { us: Math.round(seconds * 1e6), bytes, cut: false } };
}

/** Details of a connection as `ss -tin` prints them; each line replaces the one before. */
function seenBySs(report: EndReport, line: string): Partial<EndReport> {
  const one = (pattern: RegExp) => wholeNumber(firstGroup(line, pattern));
  const segmentBytes = positive(one(/ mss:(\d{1,6})\b/));
  if (segmentBytes === undefined) return {};
  const rttMs = decimalNumber(firstGroup(line, / rtt:(\d{1,6}(?:\.\d{1,6})?)\//));
  const flow = present<TransferFlow>({
    segmentBytes,
    timestamps: stampsBySs(line, segmentBytes),
    resentSegments: one(/ retrans:\d{1,9}\/(\d{1,9})\b/) ?? 0,
    sentBytes: one(/ bytes_sent:(\d{1,15})\b/),
    resentBytes: one(/ bytes_retrans:(\d{1,15})\b/) ?? 0,
  });
  const ms = ((report.ticks.at(-1)?.ms ?? 0) / 1000 + 1) * 1000;
  const rttUs = positive(rttMs === undefined ? undefined : Math.round(rttMs * 1000));
  const tick = present<TransferTick>({ ms, bytes: flow.sentBytes ?? 0, rttUs });
  return { flows: [flow], ...withTick(report, tick) };
}

/** Not every ss prints `ts`; headers of 52 bytes (IPv6: 72) and not 40 (60) say the same. */
function stampsBySs(line: string, segmentBytes: number): boolean | undefined {
  if (/\sts\s/.test(line)) return true;
  const packetBytes = wholeNumber(firstGroup(line, / pmtu:(\d{1,6})\b/));
  if (packetBytes === undefined) return undefined;
  const headerBytes = packetBytes - segmentBytes;
  if (headerBytes === 52 || headerBytes === 72) return true;
  return headerBytes === 40 || headerBytes === 60 ? false : undefined;
}

function failureOf([at = '', why = '']: readonly string[]): Partial<EndReport> {
  const word = /^[a-z0-9-]{1,24}$/;
  return word.test(at) && word.test(why) ? { failed: { at, why } } : {};
}

function positive(value: number | undefined): number | undefined {
  return value !== undefined && value > 0 ? value : undefined;
}
