import type { Database } from './database.ts';

/** Rows that retention took out. */
export interface Pruned {
  readonly audits: number;
  readonly changes: number;
}

/**
 * Takes out what is older than `before`, an ISO 8601 time: changes, growth, silences that
 * ended, cleared findings, proofs and audits. What is open, and the state of every node, stays whatever its age.
 */
export async function pruneStore(database: Database, before: string): Promise<Pruned> {
  return database.transaction(async () => {
    const old = 'select audit_id from audit where started_at < $1';
    const changes = await database.all(
      `delete from change where audit_id in (${old}) returning change_id`,
      [before],
    );
    await database.all(`delete from growth where audit_id in (${old})`, [before]);
    await database.all('delete from finding where cleared_at is not null and cleared_at < $1', [
      before,
    ]);
    await database.all('delete from silence where ended_at is not null and ended_at < $1', [
      before,
    ]);
    await database.all('delete from proof where ended_at < $1', [before]);
    const audits = await database.all(
      'delete from audit where started_at < $1 returning audit_id',
      [before],
    );
    return { audits: audits.length, changes: changes.length };
  });
}
