import { unreadNode } from '../collect/collect-survey.ts';
import { withinTime } from '../collect/within-time.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { isLost } from '../history/server-fault.ts';
import { answerOf } from './answer.ts';
import { type AskedNode, askedNodeIn } from './asked-node.ts';
import { nodeKey, tryLockNode, unlockNode } from './node-lock.ts';
import { pause } from './pause.ts';
import { leaseSeconds, type QueueJob, type WorkQueue } from './work-queue.ts';

/** How often it looks whether another session has done with a node. */
const lockEveryMs = 200;
/** A collector ends its own work on a node so long before its lease is over. */
const leaseReserveSeconds = 15;

/** What ends the reading of a node. */
export interface Ends {
  /** The session with the server, which all readings share. */
  readonly session: AbortSignal;
  /** That, or the time for this node. */
  readonly node: AbortSignal;
}

/** What the work on one job needs from outside. */
export interface JobDeps {
  readonly database: PostgresDatabase;
  readonly queue: WorkQueue;
  /** Name of the collector in answers: machine and process. */
  readonly name: string;
  /** Reads one node, or says why it may not; ends with the signals. */
  readonly read: (asked: AskedNode, ends: Ends) => Promise<NodeSurvey>;
  readonly now: () => Date;
  /** Ends the collector: what it reads is given back. */
  readonly stop: AbortSignal;
  readonly say: (line: string) => void;
}

/** Reads the node of a job while `over` lasts. Never throws: what becomes of a node is told in the queue, or by the lock that is gone. */
export async function workOn(job: QueueJob, deps: JobDeps, over: AbortSignal): Promise<void> {
  const { queue } = deps;
  try {
    const asked = askedNodeIn(job.data);
    if (asked === undefined) {
      // The audit tells of an answer that cannot be read; another collector would not know more.
      deps.say(
        `${job.queue}: what the audit asks for cannot be read here; run the same version of hopgauge everywhere`,
      );
      await queue.complete(job, { by: deps.name });
      return;
    }
    const lease = withinTime((leaseSeconds - leaseReserveSeconds) * 1000, over);
    const ends = { session: over, node: lease.signal };
    await readLocked(job, asked, { deps, ends }).finally(lease.clear);
  } catch (error) {
    if (!isLost(error) && !over.aborted)
      deps.say(`${job.queue}: ${error instanceof Error ? error.message : String(error)}`);
  }
  // Politely, so that nobody has to wait until the lock is missed.
  if (deps.stop.aborted) await queue.giveBack(job.queue, [job.id]).catch(() => undefined);
}

/** Why a node is not read whose audit waits no more by the clock here; undefined: it waits. */
function lateTrouble({ until }: AskedNode, here: string): Trouble | undefined {
  if (here <= until) return undefined;
  return {
    kind: 'fault',
    seen: `the audit waits until ${until}, and the clock of its collector says ${here}`,
    remedy: 'set the clocks of both by NTP; an audit that was killed long ago needs nothing',
  };
}

/** Locks are of the session: two jobs of one node in one collector have to be told apart here. */
const inHand = new Set<string>();

async function readLocked(
  job: QueueJob,
  asked: AskedNode,
  { deps, ends }: { readonly deps: JobDeps; readonly ends: Ends },
): Promise<void> {
  const { database, queue } = deps;
  const over = ends.node;
  const key = nodeKey(asked.site, asked.node.name);
  while (inHand.has(key) || !(await lockHere(database, key))) {
    if (over.aborted) return;
    await pause(lockEveryMs, over);
  }
  try {
    // While it waited for the lock, the audit may have ended or given the node to another.
    if (over.aborted || !(await queue.isActive(job))) return;
    const late = lateTrouble(asked, deps.now().toISOString());
    if (late !== undefined)
      deps.say(`${asked.site}: ${asked.node.name} not read: ${late.seen}; ${late.remedy}`);
    const survey =
      late === undefined ? await deps.read(asked, ends) : unreadNode(asked.node, late, deps.now());
    if (over.aborted) return;
    await queue.complete(job, answerOf(survey, deps.name));
  } finally {
    inHand.delete(key);
    await unlockNode(database, key).catch(() => undefined);
  }
}

async function lockHere(database: PostgresDatabase, key: string): Promise<boolean> {
  inHand.add(key);
  const taken = await tryLockNode(database, key).catch((error: unknown) => {
    inHand.delete(key);
    throw error;
  });
  if (!taken) inHand.delete(key);
  return taken;
}
