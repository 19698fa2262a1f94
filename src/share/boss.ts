import type PgBoss from 'pg-boss';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { StoreFault } from '../history/store-fault.ts';

/** Schema of the tables of the queue. */
export const queueSchema = 'hopgauge_queue';

/** The package's queue on a session of the store. Throws `StoreFault` where the package is missing. */
export async function bossOn(
  database: PostgresDatabase,
  { schedule }: { readonly schedule: boolean },
): Promise<PgBoss> {
  const Boss = await packageOf();
  const boss = new Boss({
    db: { executeSql: (text, values) => ran(database, text, values) },
    schema: queueSchema,
    supervise: false,
    schedule,
  });
  // Without a listener an event of this name would end the process.
  boss.on('error', () => undefined);
  return boss;
}

const oneByOne = "hashtextextended('hopgauge queue tables', 0)";

/**
 * Does what may make tables of the queue. One session at a time: the package does not expect another
 * that makes the same ones, as the sites of a first audit would.
 */
export async function makingTables<T>(
  database: PostgresDatabase,
  work: () => Promise<T>,
): Promise<T> {
  await database.run(`select pg_advisory_lock(${oneByOne})`);
  try {
    return await work();
  } finally {
    // Work that failed may have left a transaction open, in which nothing more is done. A session that
    // was lost has taken its lock with it.
    await database.run('rollback').catch(() => undefined);
    await database.run(`select pg_advisory_unlock(${oneByOne})`).catch(() => undefined);
  }
}

async function ran(
  database: PostgresDatabase,
  text: string,
  values: readonly unknown[],
): Promise<{ rows: never[] }> {
  const answer = await database.run(text, values);
  // A text of several statements has an answer for each.
  return (Array.isArray(answer) ? answer.at(-1) : answer) as { rows: never[] };
}

async function packageOf(): Promise<typeof PgBoss> {
  try {
    return (await import('pg-boss')).default;
  } catch {
    throw new StoreFault(
      'unusable',
      "the package pg-boss is missing, which collectors need; run 'npm install pg-boss@10.4.2'",
    );
  }
}
