import { describe, expect, it } from 'vitest';
import { addNight } from '../../src/drift/add-night.ts';
import { closeNight } from '../../src/drift/close-night.ts';
import type { Night } from '../../src/drift/night.ts';
import type { SitePast } from '../../src/drift/site-past.ts';
import type { Database } from '../../src/history/database.ts';
import { pruneStore } from '../../src/history/keep-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { readSitePast } from '../../src/history/read-site-past.ts';
import { writeNight } from '../../src/history/write-night.ts';
import type { Finding } from '../../src/judge/types.ts';
import { type NightOf, reading } from '../drift/nights.ts';
import { makeIntent } from '../site/builders.ts';

const site = 'Saltmarsh survey office';

function dayAt(day: number, second = 0): string {
  return new Date(Date.UTC(2026, 10, day, 2, 0, second)).toISOString();
}

const narrow: Finding = {
  id: 'a1b2c3d4e5',
  policy: 'jumbo',
  rule: 'path-clearance',
  severity: 'error',
  verdict: 'broken',
  subject: { kind: 'path', id: 'plotting' },
  cause: 'mtu quay-sw:xg3',
  what: 'carries at most 1500 of the declared 9000 bytes',
  evidence: [],
  source: 'RFC 1191',
};

/** What one audit of quay-sw found. */
interface Sketch extends NightOf {
  readonly findings?: readonly Finding[];
}

/** Compares and writes one audit, as the command does. */
async function audit(store: Database, day: number, sketch: Sketch): Promise<Night> {
  const findings = sketch.findings ?? [];
  const { night } = closeNight({
    intent: { ...makeIntent({ nodes: { 'quay-sw': {} } }), site },
    survey: {
      survey: 1,
      site,
      startedAt: dayAt(day),
      endedAt: dayAt(day, 9),
      nodes: [reading(sketch)],
    },
    judgement: {
      findings,
      faults: [],
      tally: { met: 9, broken: findings.length, undetermined: 0, waived: 0, notApplicable: 0 },
      waiversExpired: [],
      waiversMet: [],
      watched: new Map(),
    },
    past: await readPast(store, site),
    startedAt: dayAt(day),
    endedAt: dayAt(day, 9),
  });
  await writeNight(store, night);
  return night;
}

const up = { kind: 'physical', operUp: true, speedMbps: 10_000, mtuBytes: 9216 } as const;
const nights: readonly Sketch[] = [
  { ports: { xg3: { ...up, rxCrcErrors: 1 }, g7: up } },
  { ports: { xg3: { ...up, rxCrcErrors: 5, mtuBytes: 1500 }, g7: up }, findings: [narrow] },
  { silent: true },
  {
    ports: {
      xg3: { ...up, mtuBytes: 1500, rxCrcErrors: 9 },
      g7: { kind: 'physical', operUp: false },
    },
  },
  { ports: { xg3: { ...up, rxCrcErrors: 9 } } },
  { ports: { xg3: { ...up, rxCrcErrors: 9 }, g7: up }, findings: [narrow] },
];

/** What every engine of the store has to give to a page; `newStore` opens an empty one for one test. */
export function sitePastContract(newStore: () => Promise<Database>): void {
  describe('what a page draws of the past', () => {
    it('is nothing of a site that was never audited', async () => {
      const none: SitePast = {
        site,
        nights: [],
        changes: [],
        growths: [],
        silences: [],
        lives: [],
        cut: {},
      };
      expect(await readSitePast(await newStore(), site)).toEqual(none);
    });

    it('keeps what was silent, from the audit that read it last to the one that read it again', async () => {
      const store = await newStore();
      for (const [at, night] of nights.slice(0, 4).entries()) await audit(store, 20 + at, night);
      const node = 'quay-sw';
      expect((await readSitePast(store, site)).silences).toEqual([
        { node, seenAt: dayAt(21, 9), endedAt: dayAt(23) },
        { node, port: 'g7', fact: 'mtuBytes', seenAt: dayAt(21, 9) },
        { node, port: 'g7', fact: 'speedMbps', seenAt: dayAt(21, 9) },
      ]);
      await audit(store, 24, { ports: { xg3: up, g7: up } });
      const ends = (await readSitePast(store, site)).silences.map(({ endedAt }) => endedAt);
      expect(ends).toEqual([dayAt(23), dayAt(24), dayAt(24)]);
    });

    it('is, before tonight is written, what it is after', async () => {
      const store = await newStore();
      for (const [at, sketch] of nights.entries()) {
        const before = await readSitePast(store, site);
        const night = await audit(store, 20 + at, sketch);
        const after = await readSitePast(store, site);
        expect(addNight(before, night)).toEqual(after);
      }
      const { changes, growths, lives } = await readSitePast(store, site);
      expect(changes.map(({ port, fact, was, is }) => [port, fact, was, is])).toEqual([
        ['xg3', 'mtuBytes', 9216, 1500],
        ['g7', 'operUp', true, false],
        ['g7', 'present', true, false],
        ['xg3', 'mtuBytes', 1500, 9216],
        ['g7', 'present', false, true],
      ]);
      expect(growths.map(({ added }) => added)).toEqual([4, 4]);
      expect(lives.map(({ since, clearedAt }) => [since, clearedAt])).toEqual([
        [dayAt(21), dayAt(22)],
        [dayAt(25), undefined],
      ]);
    });

    it('keeps the latest of each kind, and says from when on all is there', async () => {
      const store = await newStore();
      for (const [at, sketch] of nights.entries()) await audit(store, 20 + at, sketch);
      const past = await readSitePast(store, site, { nights: 5, rows: 1 });
      expect(past.nights.map(({ startedAt }) => startedAt)[0]).toBe(dayAt(21));
      expect(
        [past.changes, past.growths, past.silences, past.lives].map((all) => all.length),
      ).toEqual([1, 1, 1, 1]);
      expect(past.cut).toEqual({
        nights: dayAt(21),
        changes: dayAt(25),
        growths: dayAt(23),
        silences: dayAt(24),
        lives: dayAt(25),
      });
    });

    it('lets pruning take silences that ended', async () => {
      const store = await newStore();
      for (const [at, night] of nights.slice(0, 4).entries()) await audit(store, 20 + at, night);
      await pruneStore(store, dayAt(24));
      const left = await store.all('select ended_at from silence');
      expect(left.map((row) => row['ended_at'])).toEqual([null, null]);
    });
  });
}
