import type { KeptResult } from '../drift/kept-result.ts';
import type { Change } from '../drift/known-node.ts';
import type { Night } from '../drift/night.ts';
import type { OpenFinding } from '../drift/settle-findings.ts';
import type { Proofs } from '../facts/proof.ts';
import type { Database, SqlValue } from './database.ts';
import { writeProofs } from './kept-proofs.ts';
import { writeLatest } from './latest-audit.ts';
import { type NumberOf, numbersOf } from './numbers-of.ts';
import { pack } from './pack.ts';
import { siteIdOf } from './read-past.ts';
import { writeSilences } from './write-silences.ts';

/**
 * Adds one audit to the history, all of it or nothing. The cost is that of what changed, and of
 * one state for each node; with `result`, so that pages can be written of it, that of the audit.
 */
export async function writeNight(
  database: Database,
  night: Night,
  result?: KeptResult,
): Promise<void> {
  // Packed before the transaction, which keeps other writers out.
  const states = night.known.map((known) => ({ known, body: pack(known) }));
  await database.transaction(async () => {
    const siteId = await siteNumber(database, night.site);
    const auditId = await addAudit(database, siteId, night);
    await database.each(
      `insert into node_state (site_id, node, seen_at, body) values ($1, $2, $3, $4)
        on conflict (site_id, node) do update set seen_at = excluded.seen_at, body = excluded.body`,
      states.map(({ known, body }) => [siteId, known.node, known.seenAt, body]),
    );
    const numbers = await numbersOf(database, { siteId, at: night.startedAt });
    await addSubjects(night, numbers);
    await addChanges(database, { auditId, night, numbers });
    await writeSilences(database, { siteId, night, numbers });
    await settle(database, { siteId, night });
    await keepWaivers(database, siteId, night);
    if (night.proofs !== undefined) await writeProofs(database, siteId, night.proofs);
    if (result !== undefined) await writeLatest(database, siteId, result);
  });
}

/** Adds proofs of a site that no audit brings, all of them or none. */
export async function addProofs(database: Database, site: string, proofs: Proofs): Promise<void> {
  await database.transaction(async () => {
    await writeProofs(database, await siteNumber(database, site), proofs);
  });
}

async function siteNumber(database: Database, site: string): Promise<number> {
  await database.all('insert into site (name) values ($1) on conflict (name) do nothing', [site]);
  return (await siteIdOf(database, site)) ?? 0;
}

async function addAudit(database: Database, siteId: number, night: Night): Promise<number> {
  const { tally } = night;
  const [row] = await database.all(
    `insert into audit (site_id, started_at, ended_at, complete, met, broken, undetermined, waived,
      nodes_read, nodes_asked, told) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)
      returning audit_id`,
    [
      siteId,
      night.startedAt,
      night.endedAt,
      night.complete ? 1 : 0,
      tally.met,
      tally.broken,
      tally.undetermined,
      tally.waived,
      night.nodesRead,
      night.nodesAsked,
      night.told,
    ],
  );
  return Number(row?.['audit_id']);
}

/** Every port that is known has a number from its first night, so that its age is known. */
async function addSubjects(night: Night, numbers: NumberOf): Promise<void> {
  await numbers.subjects(
    night.known.flatMap(({ node, survey }) => [
      { node, port: '' },
      ...survey.ports.map(({ name }) => ({ node, port: name })),
    ]),
  );
}

async function addChanges(
  database: Database,
  { auditId, night, numbers }: { auditId: number; night: Night; numbers: NumberOf },
): Promise<void> {
  const rows: SqlValue[][] = [];
  for (const change of night.changes) {
    const subject = await numbers.subject(change.node, change.port ?? '');
    const { fact, was, is } = written(change);
    rows.push([
      auditId,
      subject,
      await numbers.fact(fact),
      JSON.stringify(was),
      JSON.stringify(is),
      change.seenAt,
      change.why ?? null,
    ]);
  }
  await database.each(
    `insert into change (audit_id, subject_id, fact_id, was, became, seen_at, why)
      values ($1, $2, $3, $4, $5, $6, $7)`,
    rows,
  );
  const grown: SqlValue[][] = [];
  for (const { node, port, fact, added } of night.growths)
    grown.push([auditId, await numbers.subject(node, port), await numbers.fact(fact), added]);
  await database.each(
    'insert into growth (audit_id, subject_id, fact_id, added) values ($1, $2, $3, $4)',
    grown,
  );
}

/** A port that came, went or was renamed is kept as a change of what is there. */
function written(change: Change): { fact: string; was: unknown; is: unknown } {
  if (change.kind === 'fact') return change;
  const present = { 'port-new': [false, true], 'port-gone': [true, false] } as const;
  if (change.kind === 'port-renamed')
    return { fact: 'name', was: change.port, is: change.to ?? '' };
  const [was, is] = present[change.kind];
  return { fact: 'present', was, is };
}

async function settle(
  database: Database,
  { siteId, night }: { siteId: number; night: Night },
): Promise<void> {
  const at = night.startedAt;
  const rows = await database.all(
    'select life_id, finding_id from finding where site_id = $1 and cleared_at is null',
    [siteId],
  );
  const lives = new Map(rows.map((row) => [String(row['finding_id']), Number(row['life_id'])]));
  const open = new Set(night.open.map(({ id }) => id));
  const ended = [...lives].filter(([id]) => !open.has(id)).map(([, life]) => life);
  await database.each(
    'update finding set cleared_at = $2 where life_id = $1 and told_at is not null',
    ended.map((life) => [life, at]),
  );
  // What was never told never was, to the reader.
  await database.each(
    'delete from finding where life_id = $1 and told_at is null',
    ended.map((life) => [life]),
  );
  const standing = night.open.filter(({ id }) => lives.has(id));
  await database.each(
    `update finding set severity = $2, verdict = $3, what = $4, cause = $5, last_at = $6, nights = $7,
      told_at = coalesce(told_at, $8) where life_id = $1`,
    standing.map((each) => [lives.get(each.id) ?? 0, ...stateOf(each, at)]),
  );
  const fresh = night.open.filter(({ id }) => !lives.has(id));
  await database.each(
    `insert into finding (site_id, finding_id, policy, rule, kind, subject, since, severity, verdict,
      what, cause, last_at, nights, told_at)
      values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`,
    fresh.map((each) => [
      siteId,
      each.id,
      each.policy,
      each.rule,
      each.subject.kind,
      each.subject.id,
      each.since,
      ...stateOf(each, at),
    ]),
  );
}

function stateOf(open: OpenFinding, at: string): SqlValue[] {
  const { severity, verdict, what, cause, lastAt, nights, told } = open;
  return [severity, verdict, what, cause, lastAt, nights, told ? at : null];
}

async function keepWaivers(database: Database, siteId: number, night: Night): Promise<void> {
  await database.all('delete from waiver_use where site_id = $1', [siteId]);
  await database.each(
    'insert into waiver_use (site_id, rule, subject, met_nights) values ($1, $2, $3, $4)',
    night.waivers.map(({ rule, on, metNights }) => [siteId, rule, on, metNights]),
  );
}
