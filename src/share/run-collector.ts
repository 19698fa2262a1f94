import { setMaxListeners } from 'node:events';
import { setTimeout as wait } from 'node:timers/promises';
import { withinTime } from '../collect/within-time.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { isLost } from '../history/server-fault.ts';
import { answerOf } from './answer.ts';
import { type AskedNode, askedNodeIn } from './asked-node.ts';
import { nodeKey, tryLockNode, unlockNode } from './node-lock.ts';
import { fallsTo, queuePlace, type Takes } from './queue-names.ts';
import { leaseSeconds, type QueueJob, type WorkQueue } from './work-queue.ts';

/** Places of others that are named to a collector that nothing falls to. */
const namedMax = 5;
/** How often a collector that has nothing to do looks for work, in milliseconds. */
const idleMs = 500;
/** How often it looks whether its session lives, and how long an answer may take. */
const beatEveryMs = 1000;
const beatMs = 4000;
/** How often it tries to reach a server that is away. */
const awayMs = 2000;
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

/** What a collector needs from outside. */
export interface CollectorDeps {
  readonly database: PostgresDatabase;
  readonly queue: WorkQueue;
  readonly takes: Takes;
  /** Its name in answers: machine and process. */
  readonly name: string;
  /** Nodes that it reads at one time. */
  readonly atOnce: number;
  /** Reads one node, or says why it may not; ends with the signals. */
  readonly read: (asked: AskedNode, ends: Ends) => Promise<NodeSurvey>;
  readonly now: () => Date;
  /** Ends it: what it reads is given back. */
  readonly stop: AbortSignal;
  readonly say: (line: string) => void;
}

/** Takes what falls to it and reads it, until it is stopped. A server that is away is waited for. */
export async function runCollector(deps: CollectorDeps): Promise<void> {
  while (!deps.stop.aborted) {
    try {
      await inOneSession(deps);
    } catch (error) {
      if (!isLost(error)) throw error;
      if (deps.stop.aborted) return;
      deps.say(
        'the server of the queue is away; what was being read is dropped, and read again by whoever takes it',
      );
      await pause(awayMs, deps.stop);
    }
  }
}

/**
 * Works as long as one session lives. Locks end with it, and others may then take the nodes: all
 * reading ends with the session, too.
 */
async function inOneSession(deps: CollectorDeps): Promise<void> {
  const { database, queue, takes } = deps;
  const lost = new AbortController();
  const ended = database.onEnd(() => lost.abort());
  const over = AbortSignal.any([lost.signal, deps.stop]);
  // Every node that is being read listens to it.
  setMaxListeners(0, over);
  const running = new Map<string, Promise<void>>();
  let told = false;
  const beat = heartbeat(deps, over, () => lost.abort());
  try {
    while (!over.aborted) {
      const before = running.size;
      const there = await queue.queues();
      const queues = there.filter((name) => fallsTo(name, takes));
      if (queues.length === 0 && !told) {
        told = true;
        for (const line of otherQueues(there)) deps.say(line);
      }
      for (const name of queues) {
        const free = deps.atOnce - running.size;
        if (free <= 0) break;
        for (const job of await queue.take(name, free))
          running.set(
            job.id,
            workOn(job, deps, over).finally(() => running.delete(job.id)),
          );
      }
      if (running.size === before) await pause(idleMs, over);
    }
    if (lost.signal.aborted) throw new Error('Connection terminated');
  } finally {
    lost.abort();
    ended();
    await Promise.allSettled([...running.values(), beat]);
    // What the server may still hold for this session is of no use to anybody.
    if (!deps.stop.aborted) await database.close();
  }
}

/** For whom a word was misspelt: what others were asked for; none where nobody was. */
function otherQueues(names: readonly string[]): readonly string[] {
  const words = names.flatMap((name) => {
    const place = queuePlace(name);
    if (place === undefined) return [];
    return [place.reach === '' ? `'${place.site}'` : `'${place.site}' reach '${place.reach}'`];
  });
  if (words.length === 0) return [];
  const more = words.length > namedMax ? ` and ${words.length - namedMax} more` : '';
  return [
    `no audit has asked for what it takes yet; audits have asked for ${words.slice(0, namedMax).join(', ')}${more}`,
  ];
}

async function heartbeat(
  { database }: CollectorDeps,
  over: AbortSignal,
  onLost: () => void,
): Promise<void> {
  while (!over.aborted) {
    const alive = database.run('select 1 as here').then(
      () => true,
      () => false,
    );
    const late = wait(beatMs, false, { ref: false });
    if (!(await Promise.race([alive, late]))) onLost();
    await pause(beatEveryMs, over);
  }
}

/** Never throws: what becomes of a node is told in the queue, or by the lock that is gone. */
async function workOn(job: QueueJob, deps: CollectorDeps, over: AbortSignal): Promise<void> {
  const { queue } = deps;
  try {
    const asked = askedNodeIn(job.data);
    if (asked === undefined) {
      // The audit tells of an answer that cannot be read; another collector would not know more.
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

/** Locks are of the session: two jobs of one node in one collector have to be told apart here. */
const inHand = new Set<string>();

async function readLocked(
  job: QueueJob,
  asked: AskedNode,
  { deps, ends }: { readonly deps: CollectorDeps; readonly ends: Ends },
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
    if (deps.now().toISOString() > asked.until) return await queue.remove(job.queue, [job.id]);
    const survey = await deps.read(asked, ends);
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

async function pause(ms: number, signal: AbortSignal): Promise<void> {
  await wait(ms, undefined, { signal }).catch(() => undefined);
}
