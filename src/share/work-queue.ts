import type { PostgresDatabase } from '../history/postgres-database.ts';
import { bossOn, makingTables, queueSchema } from './boss.ts';

/**
 * How long one collector may work on one node, in seconds. A node costs its own time limits, some 40 s
 * for each of its accesses; this is for a collector that hangs.
 */
export const leaseSeconds = 300;
/** How often a node is given to another collector after one ended while it read it. */
const retryMax = 4;
/** How long what nobody took and nobody took away stays, in seconds. */
const retentionSeconds = 86_400;
/** Jobs in one statement. */
const insertMax = 500;

/** A piece of work that lies in a queue. */
export interface QueueJob {
  readonly queue: string;
  readonly id: string;
  readonly data: unknown;
}

/** A piece of work that is over. */
export interface DoneJob {
  readonly queue: string;
  readonly id: string;
  /** What was given with it; of one that failed: nothing that can be used. */
  readonly output: unknown;
  /** False: it was tried as often as it may be. */
  readonly ok: boolean;
}

/** The queue on the server of the store: what auditors put in and collectors take. */
export interface WorkQueue {
  /** Makes what is missing of the tables and of these queues. */
  readonly prepare: (queues: readonly string[]) => Promise<void>;
  /** All queues there are; none before an auditor has made one. */
  readonly queues: () => Promise<readonly string[]>;
  readonly put: (jobs: readonly QueueJob[]) => Promise<void>;
  /** Takes up to `max`, for this collector alone until it ends or the lease is over. */
  readonly take: (queue: string, max: number) => Promise<readonly QueueJob[]>;
  /** False: the job was not this collector's any more, and nothing was kept. */
  readonly complete: (job: QueueJob, output: object) => Promise<boolean>;
  /** Lets another collector take it. */
  readonly giveBack: (queue: string, ids: readonly string[]) => Promise<void>;
  /** Whether it is being worked on. */
  readonly isActive: (job: QueueJob) => Promise<boolean>;
  readonly done: (queues: readonly string[]) => Promise<readonly DoneJob[]>;
  readonly active: (queues: readonly string[]) => Promise<readonly QueueJob[]>;
  readonly remove: (queue: string, ids: readonly string[]) => Promise<void>;
  /** Takes away all of these queues, whoever put it there. */
  readonly clear: (queues: readonly string[]) => Promise<void>;
  /** Gives back what was worked on for longer than its lease. */
  readonly expire: () => Promise<void>;
}

/** The queue of a server; the tables are those of the package pg-boss. Throws `StoreFault` without it. */
export async function workQueue(database: PostgresDatabase): Promise<WorkQueue> {
  const boss = await bossOn(database, { schedule: false });
  const jobs = `${queueSchema}.job`;
  const rows = async (sql: string, values: readonly unknown[]) =>
    (await database.run(sql, values)).rows as readonly Record<string, unknown>[];
  const jobOf = (row: Record<string, unknown>): QueueJob => ({
    queue: String(row['name']),
    id: String(row['id']),
    data: row['data'],
  });
  return {
    prepare: (queues) =>
      makingTables(database, async () => {
        await boss.start();
        // Only the tables were wanted; nothing of it runs here by itself.
        await boss.stop({ graceful: false, close: false });
        for (const name of queues)
          await boss.createQueue(name, {
            name,
            policy: 'standard',
            retryLimit: retryMax,
            expireInSeconds: leaseSeconds,
            retentionSeconds,
          });
      }),
    queues: async () => {
      if (!(await boss.isInstalled())) return [];
      return (await boss.getQueues()).map(({ name }) => name);
    },
    put: async (list) => {
      for (let at = 0; at < list.length; at += insertMax)
        await boss.insert(
          list.slice(at, at + insertMax).map(({ queue, id, data }) => ({
            name: queue,
            id,
            data: data as object,
            retryLimit: retryMax,
            expireInSeconds: leaseSeconds,
          })),
        );
    },
    take: async (queue, max) =>
      (await boss.fetch<unknown>(queue, { batchSize: max })).map(({ id, data }) => ({
        queue,
        id,
        data,
      })),
    complete: async ({ queue, id }, output) => {
      // The type of the package leaves out what it gives.
      const told = (await boss.complete(queue, id, output)) as unknown as { affected: number };
      return told.affected === 1;
    },
    giveBack: async (queue, ids) => {
      if (ids.length > 0) await boss.fail(queue, [...ids]);
    },
    isActive: async ({ queue, id }) =>
      (
        await rows(`select 1 from ${jobs} where name = $1 and id = $2 and state = 'active'`, [
          queue,
          id,
        ])
      ).length > 0,
    done: async (queues) =>
      (
        await rows(
          `select name, id, state::text as state, output from ${jobs}
            where name = any($1) and state in ('completed', 'failed') limit ${insertMax}`,
          [queues],
        )
      ).map((row) => ({
        queue: String(row['name']),
        id: String(row['id']),
        output: row['output'],
        ok: row['state'] === 'completed',
      })),
    active: async (queues) =>
      (
        await rows(`select name, id, data from ${jobs} where name = any($1) and state = 'active'`, [
          queues,
        ])
      ).map(jobOf),
    remove: async (queue, ids) => {
      if (ids.length > 0) await boss.deleteJob(queue, [...ids]);
    },
    clear: async (queues) => {
      await database.run(`delete from ${jobs} where name = any($1)`, [queues]);
    },
    expire: () => boss.expire(),
  };
}
