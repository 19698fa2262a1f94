import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { deflateSync } from 'node:zlib';
import { type ClosedNight, closeNight } from '../../src/drift/close-night.ts';
import { stableJson } from '../../src/facts/json.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { readTimeline } from '../../src/history/read-timeline.ts';
import { writeNight } from '../../src/history/write-night.ts';
import type { Finding, Judgement } from '../../src/judge/types.ts';
import { historyText } from '../../src/report/history-text.ts';
import { makeYear, type Year } from './simulated-year.ts';

const nights = 365;
/** Whole surveys that are weighed; the naive year is their mean, times the nights. */
const weighedEvery = 73;
/** Ports whose history is asked for. */
const portsAsked = 50;

export interface HistoryBench {
  readonly name: string;
  readonly nights: number;
  readonly ports: number;
  readonly changesKept: number;
  readonly storeBytes: number;
  /** Slowest night: comparing and writing; reading what is known before. */
  readonly writeMsMax: number;
  readonly writeMsMedian: number;
  readonly compareMsMedian: number;
  readonly readPastMsMedian: number;
  /** Slowest answer on one port, of a fresh opening of the store. */
  readonly portMsMax: number;
  readonly portsAsked: number;
  /** Every survey whole: as `hopgauge survey` saves it, and compressed as the store compresses. */
  readonly naivePlainBytes: number;
  readonly naivePackedBytes: number;
  readonly peakBytes: number;
}

/**
 * Keeps a simulated year, every night of it, in a store on disk. The surveys are made in memory and
 * judged by nobody: findings are made up, so that what is timed is the history alone.
 */
export async function benchHistory(): Promise<HistoryBench> {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-'));
  try {
    return await benchIn(join(folder, 'history.sqlite'));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function benchIn(file: string): Promise<HistoryBench> {
  const year = makeYear();
  const times = { read: [] as number[], compare: [] as number[], write: [] as number[] };
  const weights = { plain: [] as number[], packed: [] as number[] };
  let changesKept = 0;
  for (let night = 0; night < nights; night += 1) {
    const survey = year.nextNight();
    if (night % weighedEvery === 0) weigh(survey, weights);
    const closed = await keepNight(file, survey, { year, times });
    changesKept += closed.changes.length;
    if (closed.changes.length !== (night === 0 ? 0 : year.changesPerNight))
      throw new Error(`night ${night} has ${closed.changes.length} changes`);
  }
  return {
    name: 'a year of nights',
    nights,
    ports: year.portCount,
    changesKept,
    storeBytes: statSync(file).size,
    writeMsMax: Math.max(...times.write),
    writeMsMedian: median(times.write),
    compareMsMedian: median(times.compare),
    readPastMsMedian: median(times.read),
    portMsMax: await slowestPort(file, year),
    portsAsked,
    naivePlainBytes: mean(weights.plain) * nights,
    naivePackedBytes: mean(weights.packed) * nights,
    peakBytes: process.resourceUsage().maxRSS * 1024,
  };
}

interface Keeping {
  readonly year: Year;
  readonly times: Readonly<Record<'read' | 'compare' | 'write', number[]>>;
}

/** One night as an audit keeps it: store opened, past read, night compared, written, closed. */
async function keepNight(
  file: string,
  survey: Survey,
  { year, times }: Keeping,
): Promise<ClosedNight> {
  const database = await openStore(file);
  const past = await timed(times.read, () => readPast(database, survey.site));
  const closed = await timed(times.compare, async () =>
    closeNight({
      intent: year.intent,
      survey,
      judgement: judgementOf(survey),
      past,
      startedAt: survey.startedAt,
      endedAt: survey.endedAt,
    }),
  );
  await timed(times.write, async () => {
    await writeNight(database, closed.night);
    await database.close();
  });
  return closed;
}

async function slowestPort(file: string, { portNames }: Year): Promise<number> {
  const took: number[] = [];
  const step = Math.floor(portNames.length / portsAsked);
  let told = 0;
  for (let at = 0; at < portNames.length; at += step) {
    const [node = '', port = ''] = portNames[at] ?? [];
    const target = `${node}:${port}`;
    await timed(took, async () => {
      const database = await openStore(file, { existing: true });
      const scope = { site, node, ports: [port], subjects: [target] };
      const timeline = await readTimeline(database, scope);
      told += historyText({ site, target, timeline, audits: [] }, 100).split('\n').length;
      await database.close();
    });
  }
  if (told <= portsAsked * 2) throw new Error('the ports that were asked for have no history');
  return Math.max(...took);
}

const site = 'Saltmarsh survey office';

/** Thirty findings that stand, and one that comes and goes every other night. */
function judgementOf({ startedAt }: Survey): Judgement {
  const day = Math.floor(Date.parse(startedAt) / 86_400_000);
  const standing = Array.from({ length: 30 + (day % 2) }, (_, at) => findingAt(at));
  return {
    findings: standing,
    faults: [],
    tally: { met: 40_000, broken: standing.length, undetermined: 0, waived: 0, notApplicable: 0 },
    waiversExpired: [],
    waiversMet: [],
    watched: new Map(),
  };
}

function findingAt(at: number): Finding {
  const id = `sw-${at}:p${at % 50}`;
  return {
    id: `f${at}`.padEnd(10, '0'),
    policy: 'essential',
    rule: 'link-speed',
    severity: 'warning',
    verdict: 'broken',
    subject: { kind: 'port', id },
    cause: `link ${id}`,
    what: 'runs at 1000 of the declared 10000 Mb/s',
    evidence: [],
    source: 'IEEE 802.3 clause 28',
  };
}

function weigh(
  survey: Survey,
  weights: { readonly plain: number[]; readonly packed: number[] },
): void {
  const text = stableJson(survey);
  weights.plain.push(Buffer.byteLength(text));
  weights.packed.push(deflateSync(text, { level: 1 }).byteLength);
}

async function timed<T>(into: number[], work: () => Promise<T>): Promise<T> {
  const startedMs = performance.now();
  const result = await work();
  into.push(Math.round((performance.now() - startedMs) * 10) / 10);
  return result;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchHistory(), null, 2)}\n`);
}
