import { pathToFileURL } from 'node:url';
import type { Change, KnownNode } from '../../src/drift/known-node.ts';
import type { Night, Past } from '../../src/drift/night.ts';
import type { Database } from '../../src/history/database.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import {
  auditsListedMax,
  readAudits,
  readTimeline,
  timelineEventsMax,
} from '../../src/history/read-timeline.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { storeFault } from '../../src/history/store-fault.ts';
import { writeNight } from '../../src/history/write-night.ts';

// Nights whose number is in everything that they write, so that a part of one would show.

const site = 'Saltmarsh survey office';
const nodeNames = ['quay-sw', 'loft-sw', 'shed-sw', 'gate', 'vault', 'plot-1'];
const portsPerNode = 20;
/** A writer that nobody ends. */
const nightsMax = 100_000;

const dayMs = 86_400_000;
const startMs = Date.UTC(2026, 0, 1, 2);

function startOf(number: number): string {
  return new Date(startMs + number * dayMs).toISOString();
}

/** Night `number`, from 1: every node has its number, and every node changed. */
export function numberedNight(number: number): Night {
  const startedAt = startOf(number);
  const endedAt = startedAt.replace('00.000', '40.000');
  const before = startOf(number - 1).replace('00.000', '40.000');
  const change = (node: string): Change => ({
    kind: 'fact',
    node,
    port: 'p0',
    fact: 'untaggedVlan',
    was: number - 1,
    is: number,
    seenAt: before,
  });
  return {
    site,
    startedAt,
    endedAt,
    complete: true,
    tally: { met: number, broken: 1, undetermined: 0, waived: 0 },
    nodesRead: nodeNames.length,
    nodesAsked: nodeNames.length,
    told: 2,
    known: nodeNames.map((node) => knownAt(node, number, endedAt)),
    changes: number === 1 ? [] : nodeNames.map(change),
    growths: nodeNames.map((node) => ({ node, port: 'p0', fact: 'rxErrors', added: number })),
    silences: [],
    open: [
      {
        id: `night-${number}`,
        policy: 'own',
        rule: 'numbered',
        subject: { kind: 'port', id: 'quay-sw:p0' },
        severity: 'error',
        verdict: 'broken',
        what: `of night ${number}`,
        cause: 'port quay-sw:p0',
        since: startedAt,
        lastAt: startedAt,
        nights: 1,
        told: true,
      },
    ],
    waivers: [{ rule: 'numbered', on: 'gate:p1', metNights: number }],
  };
}

function knownAt(node: string, number: number, seenAt: string): KnownNode {
  return {
    node,
    seenAt,
    older: [],
    survey: {
      node,
      readings: [{ by: 'snmp', at: '198.18.0.2', startedAt: seenAt, tookMs: 12 }],
      facts: {},
      sources: {},
      gaps: {},
      portSources: {},
      portGaps: {},
      ports: Array.from({ length: portsPerNode }, (_, at) => ({
        name: `p${at}`,
        facts: { untaggedVlan: number, rxFrames: (number * 7919 + at * 104_729) % 1_000_003 },
      })),
      routes: [],
      sessions: [],
      mounts: [],
      disagreements: [],
    },
  };
}

/** The number of the last night; 0: none. */
export function lastNumber({ lastAt }: Past): number {
  return lastAt === undefined ? 0 : Math.round((Date.parse(lastAt) - startMs) / dayMs);
}

/**
 * What is wrong with a store of numbered nights: anything that is not exactly nights 1 to its last
 * one, each whole. Empty: nothing.
 */
export async function faultsOf(database: Database): Promise<readonly string[]> {
  const past = await readPast(database, site);
  const number = lastNumber(past);
  const wrong = [...(await database.faults())];
  const audits = await readAudits(database, site);
  if (audits.length !== Math.min(number, auditsListedMax))
    wrong.push(`${audits.length} audits of ${number}`);
  if (number === 0) return wrong;
  const { known, open, waivers } = numberedNight(number);
  const same = (what: string, a: unknown, b: unknown) => {
    if (JSON.stringify(a) !== JSON.stringify(b)) wrong.push(`${what} is not of night ${number}`);
  };
  same(
    'the state',
    nodeNames.map((name) => past.known.get(name)),
    known,
  );
  same('the open findings', past.open, open);
  same('the waivers', past.waivers, waivers);
  const { events } = await readTimeline(database, { site, node: 'quay-sw', ports: ['p0'] });
  const last = events.filter(({ at }) => at === startOf(number)).map(({ kind }) => kind);
  const told = number === 1 ? ['grown', 'found'] : ['changed', 'grown', 'cleared', 'found'];
  same('what was told', last, told);
  const changed = events.flatMap((event) => (event.kind === 'changed' ? [event.is] : []));
  same(
    'the row of changes',
    changed,
    Array.from({ length: number - 1 }, (_, at) => at + 2).slice(-timelineEventsMax),
  );
  return wrong;
}

/** Writes nights on and on, as audits do; says when the store is open, and why it ended. */
async function writeOn(file: string): Promise<void> {
  const say = (what: object) => process.stdout.write(`${JSON.stringify(what)}\n`);
  let database: Database | undefined;
  try {
    database = await openStore(file);
    takeRunLock(file);
    let number = lastNumber(await readPast(database, site));
    say({ open: number });
    for (let left = nightsMax; left > 0; left -= 1) {
      number += 1;
      await writeNight(database, numberedNight(number));
    }
  } catch (error) {
    const { kind, message } = storeFault(file, error);
    say({ kind, message });
  }
  if (database === undefined) return;
  await database.close();
  const again = await openStore(file);
  say({ kept: lastNumber(await readPast(again, site)), faults: await faultsOf(again) });
  await again.close();
}

const [, program = '', file = ''] = process.argv;
if (import.meta.url === pathToFileURL(program).href) await writeOn(file);
