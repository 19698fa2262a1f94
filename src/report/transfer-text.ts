import { isMoreThanGuess } from '../diagnose/explain-figure.ts';
import { goodputShareMin } from '../facts/newest-proofs.ts';
import type { TransferMeasured } from '../probe/transfer-measured.ts';
import { ceilingText } from './ceiling-text.ts';
import { speedWords } from './fact-words.ts';
import { rounded } from './figures.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { paintFor } from './paint.ts';
import { rateSteps, stepChart } from './transfer-chart.ts';
import { meetingWords } from './transfer-meeting.ts';
import type { Reckoned, TransferDirection, TransferResult } from './transfer-result.ts';

const widthMin = 40;
const widthMax = 120;
const labelColumns = 11;

/** What a transfer showed: the metrics of RFC 6349 first, then its course and what held it back. */
export function transferText(
  result: TransferResult,
  look: { readonly width: number; readonly colour: boolean },
): string {
  const width = Math.min(widthMax, Math.max(widthMin, look.width));
  const { strong } = paintFor(look.colour);
  const parts = result.directions.map((each) => {
    const head = wrap('', clean(headWords(each)), width).map(strong);
    if (!each.ok) {
      return [...head, ...said('not done', each.seen, width), ...said('then', each.remedy, width)];
    }
    return [...head, ...measuredLines(each.measured, each.reckoned, result, width)];
  });
  const explained = result.directions.flatMap((each) =>
    each.ok ? explanationOf(each.measured, each.reckoned, look) : [],
  );
  const ends = result.interrupted ? [wrap('', interruptedWords, width).join('\n')] : [];
  const whole = [...parts.map((lines) => lines.join('\n')), ...explained, ...ends];
  return `${whole.join('\n\n')}\n`;
}

const interruptedWords =
  'interrupted: both ends were told to end; what is shown is what had passed by then';

function headWords(each: TransferDirection): string {
  const way = `${each.from} to ${each.to} (${each.toAddress})`;
  if (!each.ok) return way;
  const { goodputMbps, tookSeconds, streams, whole } = each.measured;
  const how = streams === 1 ? 'one connection' : `${streams} connections`;
  const part = whole ? '' : ', not to its end';
  return `${way}: ${rounded(goodputMbps, 1)} Mb/s of user data arrived, for ${rounded(tookSeconds, 1)} s over ${how}${part}`;
}

function said(label: string, words: string, width: number): string[] {
  return wrap(`  ${padEnd(label, labelColumns)}`, clean(words), width);
}

function measuredLines(
  measured: TransferMeasured,
  reckoned: Reckoned,
  { declaredMbps }: TransferResult,
  width: number,
): string[] {
  const line = (label: string, words: string) => said(label, words, width);
  const top = reckoned.ceiling?.goodputMbps;
  const chart = stepChart(rateSteps(measured.arrived), top, width - labelColumns - 2);
  return [
    ...line('time', timeWords(measured, reckoned)),
    ...line('sent once', efficiencyWords(measured, reckoned)),
    ...line('delay', delayWords(measured, reckoned)),
    ...line('ceiling', ceilingWords(measured, reckoned)),
    ...(declaredMbps === undefined
      ? []
      : line('declared', declaredWords(declaredMbps, measured, reckoned))),
    ...chart.map((each, at) => `  ${padEnd(at === 0 ? 'course' : '', labelColumns)}${each}`),
    ...line('processor', cpuWords(measured, 'from')),
    ...line('', cpuWords(measured, 'to')),
    ...limitLines(reckoned, width),
    ...remarksOf(measured, reckoned).flatMap((words) => line('note', words)),
  ];
}

function timeWords({ bytes, tookSeconds }: TransferMeasured, { metrics }: Reckoned): string {
  const moved = `${rounded(bytes / 1e6, 1)} MB took ${rounded(tookSeconds, 3)} s`;
  const { timeRatio, idealSeconds } = metrics;
  if (timeRatio === undefined || idealSeconds === undefined) {
    return `${moved}; the ideal is not known, since no speed of the path is declared or read`;
  }
  return `${rounded(timeRatio, 3)} times the ideal (RFC 6349 4.1.2): ${moved}, and ${rounded(idealSeconds, 3)} s at the ceiling`;
}

function efficiencyWords({ transmitted, absent }: TransferMeasured, { metrics }: Reckoned): string {
  const { efficiencyPercent } = metrics;
  if (transmitted === undefined || efficiencyPercent === undefined) {
    return `not known: ${absent['transmitted'] ?? 'nothing was sent'}`;
  }
  const { retransmittedBytes, counted } = transmitted;
  const by = counted === 'segments' ? ', counted in segments' : '';
  return `${rounded(efficiencyPercent, 3)} % (RFC 6349 4.2): ${retransmittedBytes} bytes had to be sent again${by}`;
}

function delayWords({ idle, absent }: TransferMeasured, { metrics }: Reckoned): string {
  const { averageRttMs, bufferDelayPercent } = metrics;
  const idleWords = idle === undefined ? '' : `round trip ${rounded(idle.ms, 3)} ms idle`;
  if (idle === undefined) return `not known: ${absent['idle'] ?? 'no round trip was taken'}`;
  if (averageRttMs === undefined || bufferDelayPercent === undefined) {
    return `not known: ${absent['loadedMs'] ?? 'no round trip under load'}; ${idleWords}`;
  }
  return `${rounded(bufferDelayPercent, 0)} % (RFC 6349 4.3): ${idleWords}, ${rounded(averageRttMs, 3)} ms under load`;
}

function ceilingWords(
  { goodputMbps, packet, absent }: TransferMeasured,
  { ceiling }: Reckoned,
): string {
  const used =
    packet === undefined
      ? `packet not known: ${absent['packet'] ?? 'not told'}`
      : `segments of ${packet.segmentBytes} bytes were used`;
  if (ceiling === undefined)
    return `not known, since no speed of the path is declared or read; ${used}`;
  const share = rounded((goodputMbps / ceiling.goodputMbps) * 100, 1);
  return `${rounded(ceiling.goodputMbps, 1)} Mb/s: ${speedWords(ceiling.rateMbps)} at MTU ${ceiling.packetBytes}; ${used}; ${share} % of it came`;
}

function declaredWords(
  declaredMbps: number,
  { goodputMbps, whole }: TransferMeasured,
  { reachesDeclared }: Reckoned,
): string {
  const near = `reached, less what the start of a transfer costs (from ${goodputShareMin * 100} % on)`;
  const words = !whole
    ? 'cannot be told of a transfer that did not run to its end; run it again'
    : reachesDeclared === undefined
      ? 'cannot be told of a transfer of less than a second; raise --at-most, or leave it out'
      : reachesDeclared
        ? goodputMbps < declaredMbps
          ? near
          : 'reached'
        : 'not reached';
  return `${rounded(declaredMbps, 1)} Mb/s: ${words}`;
}

function cpuWords(measured: TransferMeasured, side: 'from' | 'to'): string {
  const { node, cpu } = measured[side];
  if (cpu === undefined) {
    return `${node}: not known: ${measured.absent[`${side}.cpu`] ?? 'not told'}`;
  }
  const percent = (share: number) => `${rounded(share * 100, 0)} %`;
  const parts = [
    ...(cpu.own === undefined ? [] : [`this program ${percent(cpu.own)} of one core`]),
    ...(cpu.busiest === undefined ? [] : [`busiest core ${percent(cpu.busiest)}`]),
    ...(cpu.all === undefined
      ? []
      : [`all ${cpu.cores ?? ''} cores ${percent(cpu.all)}`.replace('  ', ' ')]),
  ];
  return `${node}: ${parts.join(', ')}`;
}

function limitLines({ limits }: Reckoned, width: number): string[] {
  if (limits.length === 0) return said('limit', 'nothing that was counted at the ends', width);
  return limits.flatMap(({ certainty, says, next }, at) => {
    const label = at === 0 ? 'limit' : 'and';
    const words = certainty === 'is' ? says : `likely ${says}`;
    return [...said(label, words, width), ...(next === undefined ? [] : said('next', next, width))];
  });
}

function remarksOf(measured: TransferMeasured, { given }: Reckoned): readonly string[] {
  const { packet, missed, endedBy, from, to } = measured;
  const smaller =
    packet !== undefined && given.packetBytes !== undefined && packet.bytes < given.packetBytes
      ? [
          `the ends agreed on packets of ${packet.bytes} bytes, though ${given.packetBytes} are declared`,
        ]
      : [];
  const byNc =
    from.tool === 'nc' || to.tool === 'nc'
      ? ['nc copies through a pipe and in small pieces, so that the path may carry more']
      : [];
  const capped =
    endedBy === 'cap' ? ['the cap on bytes ended it before its time; raise it with --at-most'] : [];
  return [
    ...smaller,
    ...missed.map((each) => meetingWords(each, { from: from.node, to: to.node })),
    ...capped,
    ...byNc,
  ];
}

/**
 * What the figure itself says, where it stays below what the line as declared allows, and where it
 * says more than what was counted at the ends.
 */
function explanationOf(
  { goodputMbps, whole }: TransferMeasured,
  { diagnosis, given, place, limits }: Reckoned,
  look: { readonly width: number; readonly colour: boolean },
): readonly string[] {
  if (!whole || limits.some(({ kind }) => kind === 'line')) return [];
  if (limits.length > 0 && !diagnosis.explanations.some(isMoreThanGuess)) return [];
  const text = `${rounded(goodputMbps, 1)}M`;
  const figure = { mbps: goodputMbps, roundingShare: 0 };
  return [
    ceilingText({ measured: { text, figure, given, diagnosis }, places: [place] }, look).trimEnd(),
  ];
}
