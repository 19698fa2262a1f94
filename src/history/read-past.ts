import type { KnownNode } from '../drift/known-node.ts';
import type { Past } from '../drift/night.ts';
import type { OpenFinding } from '../drift/settle-findings.ts';
import type { Database, SqlRow } from './database.ts';
import { unpack } from './pack.ts';
import { StoreFault } from './store-fault.ts';

/** What the store knows of a site from the nights before. */
export async function readPast(database: Database, site: string): Promise<Past> {
  const siteId = await siteIdOf(database, site);
  if (siteId === undefined) return { known: new Map(), open: [], waivers: [] };
  const states = await database.all('select node, body from node_state where site_id = $1', [
    siteId,
  ]);
  const open = await database.all(
    `select finding_id, policy, rule, kind, subject, severity, verdict, what, cause, since, last_at,
      nights, told_at from finding where site_id = $1 and cleared_at is null order by life_id`,
    [siteId],
  );
  const waivers = await database.all(
    'select rule, subject, met_nights from waiver_use where site_id = $1',
    [siteId],
  );
  // The one that was written last: after a clock that ran ahead it is not the latest by its time.
  const [last] = await database.all(
    'select started_at as at from audit where site_id = $1 order by audit_id desc limit 1',
    [siteId],
  );
  const [whole] = await database.all(
    'select max(ended_at) as at from audit where site_id = $1 and complete = 1',
    [siteId],
  );
  return {
    known: new Map(states.map((row) => [text(row, 'node'), knownOf(row)])),
    open: open.map(openOf),
    waivers: waivers.map((row) => ({
      rule: text(row, 'rule'),
      on: text(row, 'subject'),
      metNights: Number(row['met_nights']),
    })),
    ...(typeof last?.['at'] === 'string' ? { lastAt: last['at'] } : {}),
    ...(typeof whole?.['at'] === 'string' ? { lastCompleteAt: whole['at'] } : {}),
  };
}

/** The number of a site in the store; undefined: never written. */
export async function siteIdOf(database: Database, site: string): Promise<number | undefined> {
  const [row] = await database.all('select site_id from site where name = $1', [site]);
  return row === undefined ? undefined : Number(row['site_id']);
}

/** A text column; throws where the store holds something else. */
export function text(row: SqlRow, column: string): string {
  const value = row[column];
  if (typeof value !== 'string') throw damaged(column);
  return value;
}

function knownOf(row: SqlRow): KnownNode {
  const { body } = row;
  if (!(body instanceof Uint8Array)) throw damaged('body');
  try {
    // Written by this program alone, and the version of the tables says in which form.
    return unpack(body) as KnownNode;
  } catch {
    throw damaged(`the state of ${text(row, 'node')}`);
  }
}

/** A fault of a store that holds what this program never wrote. */
export function damaged(what: string): StoreFault {
  return new StoreFault(
    'unusable',
    `the store is damaged (${what}); put it aside, and begin a new one or restore a copy`,
  );
}

function openOf(row: SqlRow): OpenFinding {
  return {
    id: text(row, 'finding_id'),
    policy: text(row, 'policy'),
    rule: text(row, 'rule'),
    subject: {
      kind: text(row, 'kind') as OpenFinding['subject']['kind'],
      id: text(row, 'subject'),
    },
    severity: text(row, 'severity') as OpenFinding['severity'],
    verdict: text(row, 'verdict') as OpenFinding['verdict'],
    what: text(row, 'what'),
    cause: text(row, 'cause'),
    since: text(row, 'since'),
    lastAt: text(row, 'last_at'),
    nights: Number(row['nights']),
    told: row['told_at'] !== null,
  };
}
