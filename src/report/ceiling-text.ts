import type { FigureDiagnosis, NearLink } from '../diagnose/explain-figure.ts';
import type { FigureGiven } from '../diagnose/explanation.ts';
import { ceilingsOf, clockShare, shortShare } from '../diagnose/figure-fit.ts';
import type { MeasuredFigure } from '../diagnose/measured-figure.ts';
import type { FigurePlace, HopMatch } from '../diagnose/place-figure.ts';
import type { Ceiling } from '../ethernet/ceiling.ts';
import { bandwidthDelayBits } from '../ethernet/tcp-window.ts';
import {
  ceilingHeading,
  ceilingLines,
  type Reckoning,
  transferLine,
  windowLines,
} from './ceiling-lines.ts';
import { explanationWords } from './explanation-words.ts';
import { speedWords } from './fact-words.ts';
import { rounded, threeUnits } from './figures.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { paintFor } from './paint.ts';

/** A figure, what was known beside it, and what it says. */
export interface MeasuredPart {
  /** As the operator wrote it. */
  readonly text: string;
  readonly figure: MeasuredFigure;
  readonly given: FigureGiven;
  readonly diagnosis: FigureDiagnosis;
}

/** What the ceiling command reckoned. */
export interface CeilingResult {
  /** Absent: no rate is known, only a figure. */
  readonly ceiling?: Ceiling;
  readonly rttMs?: number;
  readonly seconds?: number;
  readonly measured?: MeasuredPart;
  /** Where on each declared path the figure points; empty: no path was named. */
  readonly places: readonly FigurePlace[];
}

const widthMin = 40;
const widthMax = 120;
const labelColumns = 13;
const portsShownMax = 8;

/** What practice looks at, in this order, when no sum comes out at the figure (common practice). */
const whereElse =
  'look, in this order, at: the port that the traffic really leaves by, at both ends; the speed of both ends; the bus of the adapters; one processor core that is full at MTU 1500; the window; disks, encryption and many small files; pause frames; a firewall on the way';

/** The ceiling with its arithmetic, and what explains a measured figure, the likeliest first. */
export function ceilingText(
  result: CeilingResult,
  look: { readonly width: number; readonly colour: boolean },
): string {
  const width = Math.min(widthMax, Math.max(widthMin, look.width));
  const { strong } = paintFor(look.colour);
  const { ceiling, measured } = result;
  const parts: string[][] = [];
  if (ceiling !== undefined) {
    const heading = wrap('', ceilingHeading(ceiling), width).map(strong);
    parts.push([
      ...heading,
      ...reckoningsOf(result, ceiling).flatMap((each) => lined(each, width)),
    ]);
  }
  if (measured !== undefined) {
    parts.push(figureLines(measured, result, width, strong));
    parts.push(...explanationParts(measured, width, strong));
  }
  parts.push(...result.places.map((place) => placeLines(place, measured, width, strong)));
  return `${parts.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

type Tone = (text: string) => string;

function lined([label, words]: Reckoning, width: number): string[] {
  return wrap(`  ${padEnd(label, labelColumns)}`, words, width);
}

function reckoningsOf({ rttMs, seconds }: CeilingResult, ceiling: Ceiling): readonly Reckoning[] {
  return [
    ...ceilingLines(ceiling),
    ...(rttMs === undefined ? [] : windowLines(ceiling.rateMbps, rttMs)),
    ...(seconds === undefined ? [] : [transferLine(ceiling.goodputMbps, seconds)]),
  ];
}

function figureLines(
  { text, figure }: MeasuredPart,
  { rttMs, seconds }: CeilingResult,
  width: number,
  strong: Tone,
): string[] {
  const { leastMbps, mostMbps } = ceilingsOf(figure);
  const lines: Reckoning[] = [
    [
      'tolerance',
      `fits a ceiling of ${rounded(leastMbps, 1)} to ${rounded(mostMbps, 1)} Mb/s: half its last digit and the ${rounded(clockShare * 100, 2)} % that clocks may differ (RFC 5180 A.1) either way, and ${rounded(shortShare * 100, 0)} % that a transfer loses at its start, to losses and at its end (common practice); nothing runs faster than its line`,
    ],
  ];
  if (rttMs !== undefined) {
    const bytes = Math.round(bandwidthDelayBits({ rateMbps: figure.mbps, rttMs }) / 8);
    lines.push(['under way', `${rounded(figure.mbps, 3)} Mb/s x ${rttMs} ms / 8 = ${bytes} bytes`]);
  }
  if (seconds !== undefined) lines.push(transferLine(figure.mbps, seconds));
  return [
    ...wrap('', `measured ${clean(text)}: ${threeUnits(figure.mbps)}`, width).map(strong),
    ...lines.flatMap((each) => lined(each, width)),
  ];
}

function explanationParts(measured: MeasuredPart, width: number, strong: Tone): string[][] {
  const { diagnosis, given } = measured;
  const nothing = nothingLines(diagnosis, width);
  const known = diagnosis.explanations.map((explanation, at) => {
    const { title, reckoning, next } = explanationWords(explanation, given);
    const leads = at === 0 && nothing.length === 0;
    return [
      ...wrap(leads ? 'first  ' : 'or     ', title, width).map(leads ? strong : (line) => line),
      ...reckoning.flatMap((line) => wrap('       ', line, width)),
      ...wrap('  next ', next, width),
    ];
  });
  return nothing.length === 0 ? known : [nothing, ...known];
}

function nothingLines({ below, above, aboveCeiling }: FigureDiagnosis, width: number): string[] {
  if (below === undefined && above === undefined) return [];
  const words = [
    `no rate, packet or bus comes out at this figure; ${nearWords(below, above)}`,
    aboveCeiling
      ? 'it is more than the line carries: it counts several flows, whole frames or another line'
      : whereElse,
  ];
  return words.flatMap((line) => wrap('', line, width));
}

function nearWords(below: NearLink | undefined, above: NearLink | undefined): string {
  const one = (link: NearLink) =>
    `${speedWords(link.rateMbps)} at MTU ${link.packetBytes} gives ${rounded(link.goodputMbps, 1)} Mb/s`;
  return [
    ...(below === undefined ? [] : [`next below, ${one(below)}`]),
    ...(above === undefined ? [] : [`next above, ${one(above)}`]),
  ].join('; ');
}

function placeLines(
  { path, hops, unknown, otherWays }: FigurePlace,
  measured: MeasuredPart | undefined,
  width: number,
  strong: Tone,
): string[] {
  const first = measured?.diagnosis.explanations[0];
  const lines = [
    ...hops.map((hop) => `points at ${matchWords(hop)}`),
    ...otherWays.map((port) => `the traffic leaves by ${port}, which the intent does not name`),
    ...(unknown.length === 0 ? [] : [`not known: ${listed(unknown)}`]),
  ];
  const pointsAtHop = first?.kind === 'link' && first.role !== 'as-given';
  const silent = pointsAtHop
    ? 'no hop of the path is so: the traffic may take another way, or the cause is at an end'
    : 'the figure points at no hop of the path';
  return [
    ...wrap('', clean(`on the path ${path}`), width).map(strong),
    ...(lines.length === 0 ? [silent] : lines).flatMap((line) => wrap('  ', clean(line), width)),
  ];
}

const places = {
  from: 'an end',
  to: 'an end',
  switch: 'a switch: it would stall large transfers',
  router: 'a router',
} as const;

function matchWords({ port, by, value, position, link }: HopMatch): string {
  if (by === 'packet') return `${port}: passes at most ${value} bytes (${places[position]})`;
  return `${port}: runs at ${speedWords(value)}${link === undefined ? '' : ` (link ${link})`}`;
}

function listed(ports: readonly string[]): string {
  const left = ports.length - portsShownMax;
  const shown = ports.slice(0, portsShownMax).join(', ');
  return left > 0 ? `${shown} and ${left} more` : shown;
}
