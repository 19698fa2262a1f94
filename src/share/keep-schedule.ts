import { setTimeout as wait } from 'node:timers/promises';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { isAway, serverCode } from '../history/server-fault.ts';
import { StoreFault } from '../history/store-fault.ts';
import { bossOn, makingTables } from './boss.ts';

/** How often one that waits for its turn looks whether it has come, in milliseconds. */
const lookEveryMs = 2000;
/** Longest time for one turn, in seconds; then another may take it. */
const turnSeconds = 6 * 3600;

/** Times that are kept in the queue of the server. */
export interface Schedule {
  readonly site: string;
  /** Five fields as crontab(5) has them. */
  readonly cron: string;
  /** Name of the time zone that they are meant in. */
  readonly timeZone: string;
}

/** Times that no clock has; the message is of what reads them. */
export class NoTimes extends Error {}

/** What becomes of a schedule. */
export interface Turns {
  /** Called once, when the times are kept. */
  readonly kept: () => void;
  readonly turn: () => Promise<void>;
  readonly stop: AbortSignal;
}

/** Name of the queue of the turns of a site. */
export function turnsOf(site: string): string {
  return `audit ${JSON.stringify([site])}`;
}

/**
 * Puts times into the queue, in place of those that it had for the site, and takes a turn whenever
 * one has come, until it is stopped. Of several that wait one has each turn, and a turn that nobody was
 * there for is had once, later. Throws `NoTimes` for times that are none.
 */
export async function keepSchedule(
  database: PostgresDatabase,
  { site, cron, timeZone }: Schedule,
  { kept, turn, stop }: Turns,
): Promise<void> {
  const boss = await bossOn(database, { schedule: true });
  const queue = turnsOf(site);
  try {
    await makingTables(database, async () => {
      await boss.start();
      // One waits at most: three nights without anybody are not three audits in the fourth.
      await boss.createQueue(queue, {
        name: queue,
        policy: 'short',
        retryLimit: 1,
        expireInSeconds: turnSeconds,
      });
    });
    await boss.schedule(queue, cron, {}, { tz: timeZone }).catch((error: unknown) => {
      if (error instanceof StoreFault || serverCode(error) !== undefined) throw error;
      throw new NoTimes(error instanceof Error ? error.message : String(error));
    });
    kept();
    while (!stop.aborted) {
      try {
        const [job] = await boss.fetch(queue, { batchSize: 1 });
        if (job !== undefined) {
          await turn();
          await boss.deleteJob(queue, job.id);
        }
      } catch (error) {
        // A server that is away is waited for; the times are kept there.
        if (!isAway(error)) throw error;
      }
      await wait(lookEveryMs, undefined, { signal: stop }).catch(() => undefined);
    }
  } finally {
    await boss.stop({ graceful: false, close: false }).catch(() => undefined);
  }
}
