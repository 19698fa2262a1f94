import { describe, expect, it } from 'vitest';
import type { Change } from '../../src/drift/known-node.ts';
import type { Database } from '../../src/history/database.ts';
import { pruneStore } from '../../src/history/keep-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { readAudits, readSites, readTimeline } from '../../src/history/read-timeline.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { knownFrom } from '../drift/nights.ts';
import { nightOf, openOn } from './store.ts';

const site = 'Saltmarsh survey office';

const [first, second, third] = [nightOf(24), nightOf(25), nightOf(26)];
const known = knownFrom({ ports: { xg3: { mtuBytes: 9216 } } }, first.endedAt);
const shrunk: Change = {
  kind: 'fact',
  node: 'quay-sw',
  port: 'xg3',
  fact: 'mtuBytes',
  was: 9216,
  is: 1500,
  seenAt: first.endedAt,
  why: 'the node restarted between',
};

/** What every engine of the store has to do with nights; `newStore` opens an empty one for one test. */
export function nightsContract(newStore: () => Promise<Database>): void {
  describe('nights that were kept', () => {
    it('are nothing before the first', async () => {
      const store = await newStore();
      expect(await readPast(store, site)).toEqual({ known: new Map(), open: [], waivers: [] });
      expect(await readTimeline(store, { site })).toEqual({ events: [], truncated: false });
    });

    it('give back what is known, open and waived', async () => {
      const store = await newStore();
      const open = [openOn(first.startedAt), openOn(first.startedAt, { id: 'b2', told: false })];
      const waivers = [{ rule: 'duplex-full', on: 'quay-sw:g7', metNights: 3 }];
      await writeNight(store, { ...first, known: [known], open, waivers });
      expect(await readPast(store, site)).toEqual({
        known: new Map([['quay-sw', known]]),
        open,
        waivers,
        lastAt: first.startedAt,
        lastCompleteAt: first.endedAt,
      });
      expect(await readSites(store)).toEqual([site]);
    });

    it('keep sites apart', async () => {
      const store = await newStore();
      await writeNight(store, { ...first, known: [known] });
      await writeNight(store, { ...second, site: 'the depot' });
      expect((await readPast(store, 'the depot')).known.size).toBe(0);
      expect((await readAudits(store, site)).map(({ startedAt }) => startedAt)).toEqual([
        first.startedAt,
      ]);
    });

    it('tell what happened to a port, with the findings on it', async () => {
      const store = await newStore();
      await writeNight(store, { ...first, known: [known] });
      await writeNight(store, {
        ...second,
        known: [known],
        changes: [shrunk],
        growths: [{ node: 'quay-sw', port: 'xg3', fact: 'rxCrcErrors', added: 7 }],
        open: [openOn(second.startedAt)],
        told: 1,
      });
      await writeNight(store, { ...third, known: [known] });
      const port = { site, node: 'quay-sw', ports: ['xg3'], subjects: ['plotting'] };
      const found = {
        id: 'a1b2c3d4e5',
        rule: 'path-clearance',
        subject: 'plotting',
        subjectKind: 'path',
        severity: 'error',
        verdict: 'broken',
        what: 'carries at most 1500 of the declared 9000 bytes',
        cause: 'mtu quay-sw:xg2',
        since: second.startedAt,
      };
      expect(await readTimeline(store, port)).toEqual({
        firstSeen: first.startedAt,
        truncated: false,
        events: [
          {
            kind: 'changed',
            at: second.startedAt,
            node: 'quay-sw',
            port: 'xg3',
            fact: 'mtuBytes',
            was: 9216,
            is: 1500,
            seenAt: first.endedAt,
            why: 'the node restarted between',
          },
          {
            kind: 'grown',
            at: second.startedAt,
            node: 'quay-sw',
            port: 'xg3',
            fact: 'rxCrcErrors',
            added: 7,
          },
          { kind: 'found', at: second.startedAt, ...found },
          { kind: 'cleared', at: third.startedAt, ...found },
        ],
      });
      const later = await readTimeline(store, { ...port, since: third.startedAt });
      expect(later.events.map(({ kind }) => kind)).toEqual(['cleared']);
      const byId = await readTimeline(store, { site, node: '', subjects: ['a1b2c3d4e5'] });
      expect(byId.events.map(({ kind }) => kind)).toEqual(['found', 'cleared']);
      const other = await readTimeline(store, { ...port, ports: ['xg4'], subjects: [] });
      expect(other).toEqual({ events: [], truncated: false });
    });

    it('keep a finding since its first night, and forget one that was never told', async () => {
      const store = await newStore();
      const waiting = openOn(first.startedAt, { id: 'b2', told: false });
      await writeNight(store, { ...first, open: [openOn(first.startedAt), waiting] });
      const again = openOn(first.startedAt, { lastAt: second.startedAt, nights: 2 });
      await writeNight(store, { ...second, open: [again] });
      expect((await readPast(store, site)).open).toEqual([again]);
      const { events } = await readTimeline(store, { site });
      expect(events.map(({ kind, at }) => `${kind} ${at}`)).toEqual([`found ${first.startedAt}`]);
    });

    it('are pruned by age, but for what is open and what is known', async () => {
      const store = await newStore();
      await writeNight(store, {
        ...first,
        known: [known],
        changes: [shrunk],
        open: [openOn(first.startedAt), openOn(first.startedAt, { id: 'b2' })],
      });
      await writeNight(store, { ...second, open: [openOn(first.startedAt)] });
      expect(await pruneStore(store, third.startedAt)).toEqual({ audits: 2, changes: 1 });
      await store.compact();
      expect(await store.faults()).toEqual([]);
      const past = await readPast(store, site);
      expect(past.known.get('quay-sw')).toEqual(known);
      expect(past.open.map(({ id }) => id)).toEqual(['a1b2c3d4e5']);
    });
  });
}
