import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Night } from '../../src/drift/night.ts';
import type { OpenFinding } from '../../src/drift/settle-findings.ts';
import type { Database } from '../../src/history/database.ts';
import { openStore } from '../../src/history/open-store.ts';
import { knownFrom } from '../drift/nights.ts';

/** A folder of its own for one test, gone with it. */
export function ownFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-store-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Where a new store of one test may be. */
export const newStorePath = (): string => join(ownFolder(), 'history.sqlite');

/** A new store of SQLite, gone with its test. */
export async function newStore(): Promise<Database> {
  const store = await openStore(join(ownFolder(), 'history.sqlite'));
  onTestFinished(() => store.close());
  return store;
}

/** A night on which nothing happened, but for what is given. */
export function nightOf(day: number, over: Partial<Night> = {}): Night {
  const at = new Date(Date.UTC(2026, 10, day, 2)).toISOString();
  return {
    site: 'Saltmarsh survey office',
    startedAt: at,
    endedAt: at.replace('00.000', '09.000'),
    complete: true,
    tally: { met: 40, broken: 1, undetermined: 0, waived: 0 },
    nodesRead: 5,
    nodesAsked: 5,
    told: 0,
    known: [],
    changes: [],
    growths: [],
    silences: [],
    open: [],
    waivers: [],
    ...over,
  };
}

/** An open finding on the path of the plotters. */
export function openOn(since: string, over: Partial<OpenFinding> = {}): OpenFinding {
  return {
    id: 'a1b2c3d4e5',
    policy: 'jumbo',
    rule: 'path-clearance',
    subject: { kind: 'path', id: 'plotting' },
    severity: 'error',
    verdict: 'broken',
    what: 'carries at most 1500 of the declared 9000 bytes',
    cause: 'mtu quay-sw:xg2',
    since,
    lastAt: since,
    nights: 1,
    told: true,
    ...over,
  };
}

/**
 * The `count`th of many nights: the state, one change, the counters and the open finding all say
 * which night it is, so that a torn one would contradict itself.
 */
export function eachNight(count: number): Night {
  const at = new Date(Date.UTC(2020, 0, 1 + count, 2)).toISOString();
  const facts = { mtuBytes: 1500 + count };
  const known = knownFrom({ ports: { xg3: facts } }, at);
  const change = {
    kind: 'fact',
    node: 'quay-sw',
    port: 'xg3',
    fact: 'mtuBytes',
    was: 1499 + count,
    is: 1500 + count,
    seenAt: at,
  } as const;
  return {
    ...nightOf(1),
    startedAt: at,
    endedAt: at,
    told: count,
    known: [known],
    changes: [change],
    growths: [{ node: 'quay-sw', port: 'xg3', fact: 'rxCrcErrors', added: 1 + count }],
    open: [openOn(at, { id: `night-${count}`, what: `night ${count}` })],
  };
}
