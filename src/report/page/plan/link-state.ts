import { gapOf } from '../../../facts/subject.ts';
import type { SiteLink, SitePort } from '../../../site/types.ts';
import { speedWords } from '../../fact-words.ts';

/**
 * How a link is drawn, gravest first: no link; an end that does not pass the declared packet; less
 * speed than it should have, or another duplex; not read or not settled; as it should be; or there
 * and not in the intent.
 */
export const linkStates = [
  'down',
  'too-small',
  'slow',
  'not-known',
  'as-declared',
  'not-declared',
] as const;
/** How a link is drawn. */
export type LinkState = (typeof linkStates)[number];

/** What both ends of a link say, as far as a drawing tells it. */
export interface LinkReading {
  readonly state: LinkState;
  /** What it does not do as declared, each in few words: for a mark. Empty: it does all. */
  readonly marks: readonly string[];
  /** Slowest end in Mb/s; absent: no end says. */
  readonly speedMbps?: number;
  /** What it should run at: declared, else what both ends can; absent: not known. */
  readonly ratedMbps?: number;
  /** IP packet in bytes that passes both ends at most; absent: an end does not say. */
  readonly atMostBytes?: number;
  /** IP packet that a path or segment wants through it; absent: none does. */
  readonly wantedBytes?: number;
}

/** Reads the state of a declared link off its facts and those of its ends. */
export function readLink(link: SiteLink): LinkReading {
  const numbers = numbersOf(link);
  const down = downMark(link);
  const marks: [LinkState, string][] = [
    ...(down === undefined ? [] : [['down', down] as const]),
    ...packetMarks(link, numbers),
    ...(down === undefined ? rateMarks(link, numbers) : []),
  ].map(([state, mark]) => [state, mark]);
  const state = linkStates.find((each) => marks.some(([of]) => of === each)) ?? 'as-declared';
  return { state, marks: [...new Set(marks.map(([, mark]) => mark))], ...numbers };
}

type Numbers = Omit<LinkReading, 'state' | 'marks'>;

function numbersOf({ ends, subject }: SiteLink): Numbers {
  const numbers = (name: string) => ends.flatMap((end) => numberOf(end, name) ?? []);
  const speeds = numbers('speedMbps');
  const most = numbers('passesAtMostBytes');
  const wanted = numbers('declaredMtuBytes');
  const rated = subject.facts['declaredSpeedMbps'] ?? subject.facts['ratedMbps'];
  return {
    ...(speeds.length === 0 ? {} : { speedMbps: Math.min(...speeds) }),
    ...(typeof rated === 'number' ? { ratedMbps: rated } : {}),
    ...(most.length === ends.length ? { atMostBytes: Math.min(...most) } : {}),
    ...(wanted.length === 0 ? {} : { wantedBytes: Math.max(...wanted) }),
  };
}

/** A fact of an end, where it is a number. */
export function numberOf({ subject }: SitePort, name: string): number | undefined {
  const value = subject.facts[name];
  return typeof value === 'number' ? value : undefined;
}

function downMark({ ends }: SiteLink): string | undefined {
  const facts = ends.map(({ subject }) => subject.facts);
  if (facts.some((each) => each['adminUp'] === false)) return 'switched off';
  if (!facts.some((each) => each['operUp'] === false)) return undefined;
  return facts.some((each) => each['mayBeDown'] === true) ? 'down, as it may be' : 'down';
}

type Mark = readonly [LinkState, string];

function packetMarks({ ends }: SiteLink, { wantedBytes }: Numbers): Mark[] {
  if (wantedBytes === undefined) return [];
  const small = ends.filter(({ subject }) => subject.facts['carriesDeclaredMtu'] === false);
  const most = small.flatMap((end) => numberOf(end, 'passesAtMostBytes') ?? []);
  if (small.length > 0)
    return [['too-small', most.length === 0 ? 'MTU too small' : `MTU ${Math.min(...most)}`]];
  const open = ends.filter((end) => {
    const gap = gapOf(end.subject, 'carriesDeclaredMtu');
    return gap !== undefined && gap.reason !== 'unreachable' && gap.reason !== 'unasked';
  });
  return open.length === 0 ? [] : [['not-known', 'MTU not settled']];
}

function rateMarks({ ends, subject }: SiteLink, { speedMbps, ratedMbps }: Numbers): Mark[] {
  const marks: Mark[] = [];
  if (speedMbps !== undefined && ratedMbps !== undefined && speedMbps < ratedMbps)
    marks.push(['slow', ofWords(speedMbps, ratedMbps)]);
  else if (subject.facts['speedsEqual'] === false) marks.push(['slow', 'unequal speeds']);
  const duplex = ends.find(({ subject: { facts } }) => {
    const [runs, wanted] = [facts['duplex'], facts['declaredDuplex']];
    return runs !== undefined && wanted !== undefined && runs !== wanted;
  })?.subject.facts['duplex'];
  const isSlow = marks.length > 0 || speedMbps === undefined;
  if (typeof duplex === 'string')
    marks.push(['slow', `${isSlow ? '' : `${speedWords(speedMbps)} `}${duplex} duplex`]);
  return [...marks, ...unreadMarks(ends, speedMbps)];
}

/** `1 of 10 Gb/s`, `100 Mb/s of 1 Gb/s` */
function ofWords(speedMbps: number, ratedMbps: number): string {
  const [runs, rated] = [speedWords(speedMbps), speedWords(ratedMbps)];
  const [unit] = / \w+\/s$/.exec(rated) ?? [''];
  return `${runs.endsWith(unit) ? runs.slice(0, -unit.length) : runs} of ${rated}`;
}

/** What nobody could tell: an end that was to be read and was not, or no speed from any. */
function unreadMarks(ends: SiteLink['ends'], speedMbps: number | undefined): Mark[] {
  const unread = ends.filter(
    ({ subject }) => subject.facts['unread'] !== true && subject.facts['operUp'] === undefined,
  );
  if (unread.length === ends.length) return [['not-known', 'not read']];
  if (unread.length > 0) return [['not-known', 'one end not read']];
  if (speedMbps !== undefined) return [];
  const onWord = ends.every(({ subject }) => subject.facts['unread'] === true);
  return [['not-known', onWord ? 'on your word' : 'speed not read']];
}
