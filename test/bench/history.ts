import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { closeNight } from '../../src/drift/close-night.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { saveSurvey } from '../../src/facts/saved-survey.ts';
import type { NodeSurvey, PortSurvey, Survey } from '../../src/facts/survey.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { readTimeline } from '../../src/history/read-timeline.ts';
import { writeNight } from '../../src/history/write-night.ts';
import type { Intent } from '../../src/intent/types.ts';
import type { Judgement } from '../../src/judge/types.ts';

const switches = 200;
const portsPerSwitch = 50;
const changesPerNight = 20;
/** Whole surveys are alike in size, so that a few stand for all. */
const wholeSampled = 3;

/** What a year of nights costs. */
export interface HistoryBench {
  readonly nights: number;
  readonly storeBytes: number;
  /** The same nights with every survey stored whole. */
  readonly wholeBytes: number;
  /** Of the slowest night: compare with the nights before, and write. */
  readonly slowestNightMs: number;
  readonly medianNightMs: number;
  /** `history` of one port. */
  readonly portMs: number;
}

/** Keeps a simulated year of nights on 10,000 ports, 20 changes a night. */
export async function benchHistory(nights = 365): Promise<HistoryBench> {
  const folder = await mkdtemp(join(tmpdir(), 'hopgauge-bench-'));
  const file = join(folder, 'history.sqlite');
  const site = 'the simulated site';
  const mtus = Array.from({ length: switches * portsPerSwitch }, () => 9216);
  const random = makeRandom();
  const times: number[] = [];
  let wholeBytes = 0;
  try {
    for (let night = 0; night < nights; night += 1) {
      for (let each = 0; night > 0 && each < changesPerNight; each += 1) {
        mtus[Math.floor(random() * mtus.length)] = random() < 0.5 ? 1500 : 9216;
      }
      const survey = surveyOf(site, night, mtus);
      if (night < wholeSampled) wholeBytes += Buffer.byteLength(saveSurvey(survey)) / wholeSampled;
      const before = process.hrtime.bigint();
      const store = await openStore(file);
      const past = await readPast(store, site);
      const closed = closeNight({
        intent: { nodes: [], waivers: [] } as unknown as Intent,
        survey,
        judgement,
        past,
        startedAt: survey.startedAt,
        endedAt: survey.endedAt,
      });
      await writeNight(store, closed.night);
      await store.close();
      times.push(msSince(before));
    }
    const portMs = await portQuery(file, site);
    const sorted = [...times].sort((a, b) => a - b);
    return {
      nights,
      storeBytes: (await stat(file)).size,
      wholeBytes: wholeBytes * nights,
      slowestNightMs: sorted.at(-1) ?? 0,
      medianNightMs: sorted[Math.floor(sorted.length / 2)] ?? 0,
      portMs,
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function portQuery(file: string, site: string): Promise<number> {
  const before = process.hrtime.bigint();
  const store = await openStore(file, { existing: true });
  await readTimeline(store, { site, node: 'sw-100', ports: ['xg25'], subjects: ['sw-100:xg25'] });
  await store.close();
  return msSince(before);
}

function msSince(before: bigint): number {
  return Number(process.hrtime.bigint() - before) / 1e6;
}

/** Numbers below 1 that look random and are the same in every run (a linear congruence). */
function makeRandom(): () => number {
  let state = 54_321;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const judgement: Judgement = {
  findings: [],
  faults: [],
  tally: { met: 100_000, broken: 0, undetermined: 0, waived: 0, notApplicable: 0 },
  waiversExpired: [],
  waiversMet: [],
  watched: new Map(),
};

const first = Date.UTC(2026, 0, 1, 2);
const day = 86_400_000;

function surveyOf(site: string, night: number, mtus: readonly number[]): Survey {
  const startedAt = new Date(first + night * day).toISOString();
  const nodes = Array.from({ length: switches }, (_, at) => nodeOf(at, night, mtus));
  return {
    survey: 1,
    site,
    startedAt,
    endedAt: new Date(first + night * day + 60_000).toISOString(),
    nodes,
  };
}

function nodeOf(at: number, night: number, mtus: readonly number[]): NodeSurvey {
  const ports = Array.from({ length: portsPerSwitch }, (_, port) =>
    portOf(at * portsPerSwitch + port, { name: `xg${port}`, night, mtus }),
  );
  return {
    node: `sw-${at}`,
    readings: [
      { by: 'snmp', at: `198.18.0.${at}`, startedAt: new Date(first).toISOString(), tookMs: 120 },
    ],
    facts: {
      systemKind: 'snmp',
      systemName: `sw-${at}`,
      systemText: 'Simulated switch, 50 x 10 Gb/s',
      uptimeSeconds: 86_400 * (night + 30),
      engineId: `80007ed904${at.toString(16).padStart(8, '0')}`,
    },
    sources: {},
    gaps: {},
    portSources: {},
    portGaps: {},
    ports,
    routes: [],
    sessions: [],
    mounts: [],
    disagreements: [],
  };
}

/** Counters grow every night on every port, as they do. */
function portOf(
  number: number,
  { name, night, mtus }: { name: string; night: number; mtus: readonly number[] },
): PortSurvey {
  const grown = (night + 1) * (1_000_003 + number * 7919);
  const facts: PortReadFacts = {
    alias: `desk ${number}`,
    kind: 'physical',
    macAddress: `02:00:5e:${hex(number >> 16)}:${hex(number >> 8)}:${hex(number)}`,
    ifIndex: 10_101 + number,
    ifType: 6,
    adminUp: true,
    operUp: true,
    mtuBytes: mtus[number] ?? 9216,
    speedMbps: 10_000,
    duplex: 'full',
    untaggedVlan: 20,
    untaggedVlans: [20],
    taggedVlans: [],
    spanningTree: 'forwarding',
    rxOctets: grown * 700,
    txOctets: grown * 900,
    rxFrames: grown,
    txFrames: grown + 17,
    rxErrors: 0,
    txErrors: 0,
    rxDropped: grown % 97,
    txDropped: grown % 89,
    rxCrcErrors: 0,
    rxAlignmentErrors: 0,
    rxTooLong: 0,
    rxSymbolErrors: 0,
    lateCollisions: 0,
  };
  return { name, facts };
}

function hex(value: number): string {
  return (value & 255).toString(16).padStart(2, '0');
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchHistory(), null, 2)}\n`);
}
