import { chartedFacts } from '../../../drift/silences.ts';
import type { EndedSilence, SeenChange, SeenGrowth, SitePast } from '../../../drift/site-past.ts';
import type { FactValue } from '../../../facts/entry.ts';
import { byName } from '../../../facts/order.ts';
import { groupBy } from '../group-by.ts';
import { gapKind, pausesOf } from './course-gaps.ts';
import type { PortPast } from './page-past.ts';

/** One fact of a port over the nights. */
export interface PortCourse {
  /** A fact of the dictionary; of a counter the sum of what it added since the first night shown. */
  readonly fact: string;
  /** The value is a running sum of what was counted; absent: it is the value itself. */
  readonly counted?: true;
  /** By time, without overlap; one ends where the next begins. */
  readonly stretches: readonly Stretch[];
}

/** Nights in a row with one value, or without any for one reason. */
export interface Stretch {
  /** Start of the first audit of the stretch, ISO 8601 UTC. */
  readonly from: string;
  /** Start of the first audit after it; of the last stretch that of the last audit. */
  readonly to: string;
  /** Exactly one of `value` and `gap` is there. */
  readonly value?: FactValue;
  readonly gap?: string;
}

/** The last known value of a fact, for one that did not change; undefined: none is known. */
export type LastValueOf = (node: string, port: string, fact: string) => FactValue | undefined;

/** All ports of which something moved or was silent, each with the courses of what did. */
export function portCourses(past: SitePast, lastValueOf: LastValueOf): PortPast[] {
  const nights = past.nights.map(({ startedAt }) => startedAt);
  const pauses = pausesOf(nights);
  const away = groupBy(
    past.silences.filter(({ port }) => port === undefined),
    ({ node }) => node,
  );
  const ports = [...gather(past).values()];
  return ports
    .map((port) => {
      const gaps = [...(away.get(port.node) ?? []), ...port.silences];
      const of: Course = { port, nights, pauses, away: away.get(port.node) ?? [], gaps, past };
      return {
        node: port.node,
        port: port.port,
        lastAt: lastMove(port),
        courses: [...chartedCourses(of, lastValueOf), ...countedCourses(of)],
      };
    })
    .filter(({ courses }) => courses.length > 0)
    .sort((a, b) => byName(a.node, b.node) || byName(a.port, b.port));
}

interface Gathered {
  readonly node: string;
  readonly port: string;
  readonly changes: SeenChange[];
  readonly growths: SeenGrowth[];
  readonly silences: EndedSilence[];
}

interface Course {
  readonly port: Gathered;
  readonly nights: readonly string[];
  readonly pauses: ReadonlySet<string>;
  readonly away: readonly EndedSilence[];
  readonly gaps: readonly EndedSilence[];
  readonly past: SitePast;
}

function gather({ changes, growths, silences }: SitePast): Map<string, Gathered> {
  const ports = new Map<string, Gathered>();
  const at = (node: string, port: string): Gathered => {
    const key = `${node}\n${port}`;
    const known = ports.get(key) ?? { node, port, changes: [], growths: [], silences: [] };
    ports.set(key, known);
    return known;
  };
  for (const change of changes) at(change.node, change.port).changes.push(change);
  for (const growth of growths) at(growth.node, growth.port).growths.push(growth);
  for (const silence of silences)
    if (silence.port !== undefined) at(silence.node, silence.port).silences.push(silence);
  return ports;
}

function lastMove({ changes, growths, silences }: Gathered): string {
  const times = [...changes, ...growths].map(({ at }) => at);
  const seen = silences.map(({ seenAt, endedAt }) => endedAt ?? seenAt);
  return [...times, ...seen].sort().at(-1) ?? '';
}

function chartedCourses(of: Course, lastValueOf: LastValueOf): PortCourse[] {
  const { port, past } = of;
  const begin = latestOf(firstSeenOf(port), past.cut.changes, past.cut.silences);
  return chartedFacts.flatMap((fact) => {
    const changes = port.changes.filter((change) => change.fact === fact);
    const silent = port.silences.filter((silence) => silence.fact === fact);
    if (changes.length + silent.length === 0) return [];
    const still = lastValueOf(port.node, port.port, fact);
    return courseOf({ fact }, of, (night) => {
      if (night < begin) return {};
      const gap = gapAt(night, of, { fact, changes });
      if (gap !== undefined) return { gap };
      const value = valueAt(night, changes) ?? still;
      return value === undefined ? { gap: gapKind.unknown } : { value };
    });
  });
}

/** Absent where the port has only silences: then the first night shown is as good as any. */
function firstSeenOf({ changes, growths }: Gathered): string {
  return [...changes, ...growths].map(({ firstSeen }) => firstSeen).sort()[0] ?? '';
}

function latestOf(...times: readonly (string | undefined)[]): string {
  return times.reduce<string>((last, time = '') => (time > last ? time : last), '');
}

function valueAt(night: string, changes: readonly SeenChange[]): FactValue | undefined {
  const before = changes.findLast(({ at }) => at <= night);
  return before === undefined ? changes[0]?.was : before.is;
}

function gapAt(
  night: string,
  { port, away, gaps }: Course,
  { fact, changes }: { readonly fact: string; readonly changes: readonly SeenChange[] },
): string | undefined {
  const isSilent = ({ seenAt, endedAt }: EndedSilence) =>
    seenAt < night && (endedAt === undefined || night < endedAt);
  if (away.some(isSilent)) return gapKind.away;
  const present = valueAt(
    night,
    port.changes.filter((change) => change.fact === 'present'),
  );
  if (present === false) return gapKind.gone;
  const own = gaps.filter((gap) => gap.fact === fact);
  // Nights that were kept before silences were: the next change says when its old value was read.
  const next = changes.find(({ at }) => at > night);
  if (own.some(isSilent) || (next !== undefined && next.seenAt < night)) return gapKind.unread;
  return undefined;
}

/** Running sums, one for each counter that counted something. */
function countedCourses(of: Course): PortCourse[] {
  const { port, away, past } = of;
  const facts = [...new Set(port.growths.map(({ fact }) => fact))].sort(byName);
  const begin = latestOf(firstSeenOf(port), past.cut.growths, past.cut.silences);
  return facts.flatMap((fact) => {
    const growths = port.growths.filter((growth) => growth.fact === fact);
    let [sum, next] = [0, 0];
    return courseOf({ fact, counted: true }, of, (night) => {
      for (; (growths[next]?.at ?? '~') <= night; next += 1) sum += growths[next]?.added ?? 0;
      if (night < begin) return {};
      const isAway = away.some(
        ({ seenAt, endedAt }) => seenAt < night && (endedAt === undefined || night < endedAt),
      );
      return isAway ? { gap: gapKind.away } : { value: sum };
    });
  });
}

type Sample = Pick<Stretch, 'value' | 'gap'>;

/** Nights of one value or one reason in a row become a stretch. */
function courseOf(
  head: Omit<PortCourse, 'stretches'>,
  { nights, pauses }: Course,
  sampleAt: (night: string) => Sample,
): PortCourse[] {
  const stretches: Stretch[] = [];
  for (const [at, night] of nights.entries()) {
    const sample = sampleAt(night);
    if (sample.value === undefined && sample.gap === undefined) continue;
    const to = nights[at + 1] ?? night;
    if (!pauses.has(night)) push(stretches, { from: night, to, ...sample });
    else {
      push(stretches, { from: night, to: night, ...sample });
      push(stretches, { from: night, to, gap: gapKind.pause });
    }
  }
  return stretches.some(({ value }) => value !== undefined) ? [{ ...head, stretches }] : [];
}

function push(stretches: Stretch[], next: Stretch): void {
  const last = stretches.at(-1);
  const goesOn = last !== undefined && last.value === next.value && last.gap === next.gap;
  if (goesOn) stretches[stretches.length - 1] = { ...last, to: next.to };
  else stretches.push(next);
}
