import type { PostgresDatabase } from '../history/postgres-database.ts';
import { lockedNodes, nodeKey } from './node-lock.ts';
import type { OpenJob, OpenJobs } from './open-job.ts';
import type { WorkQueue } from './work-queue.ts';

/**
 * How long the lock of a node that is being read may be missing before the node is given to another
 * collector. One that lives has it at once; one that lost its session stops asking within this.
 */
const orphanMs = 6000;

/** Where orphans are looked for. */
export interface OrphanDeps {
  readonly database: PostgresDatabase;
  readonly queue: WorkQueue;
  readonly site: string;
  readonly queues: readonly string[];
}

/** Gives back what a collector had that lives no more: its locks went with its session. */
export async function freeOrphans(
  { database, queue, site, queues }: OrphanDeps,
  open: OpenJobs,
): Promise<void> {
  const active = (await queue.active(queues)).flatMap(({ id }) => open.get(id) ?? []);
  if (active.length === 0) return;
  const keyOf = ({ node }: OpenJob) => nodeKey(site, node.name);
  const locked = await lockedNodes(database, active.map(keyOf));
  const now = performance.now();
  const orphans = active.filter((asked) => {
    asked.taken = true;
    if (locked.has(keyOf(asked))) {
      delete asked.missingSince;
      return false;
    }
    asked.missingSince ??= now;
    return now - asked.missingSince > orphanMs;
  });
  for (const asked of orphans) delete asked.missingSince;
  for (const name of queues)
    await queue.giveBack(
      name,
      orphans.filter(({ job }) => job.queue === name).map(({ job }) => job.id),
    );
}
