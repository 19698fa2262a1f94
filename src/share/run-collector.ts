import { setMaxListeners } from 'node:events';
import { setTimeout as wait } from 'node:timers/promises';
import { isAway } from '../history/server-fault.ts';
import { pause } from './pause.ts';
import { fallsTo, queuePlace, type Takes } from './queue-names.ts';
import { type JobDeps, workOn } from './read-job.ts';

/** Places of others that are named to a collector that nothing falls to. */
const namedMax = 5;
/** How often a collector that has nothing to do looks for work, in milliseconds. */
const idleMs = 500;
/** How often it looks whether its session lives, and how long an answer may take. */
const beatEveryMs = 1000;
const beatMs = 4000;
/** How often it tries to reach a server that is away. */
const awayMs = 2000;

/** What a collector needs from outside. */
export interface CollectorDeps extends JobDeps {
  readonly takes: Takes;
  /** Nodes that it reads at one time. */
  readonly atOnce: number;
}

/** Takes what falls to it and reads it, until it is stopped. A server that is away is waited for. */
export async function runCollector(deps: CollectorDeps): Promise<void> {
  const told: Told = { away: false, asked: 'nothing' };
  while (!deps.stop.aborted) {
    try {
      await inOneSession(deps, told);
    } catch (error) {
      if (!isAway(error)) throw error;
      if (deps.stop.aborted) return;
      // Once: it may be away for a night.
      if (!told.away) deps.say(awayWords);
      told.away = true;
      await pause(awayMs, deps.stop);
    }
  }
}

const awayWords =
  'the server of the queue is away, waiting for it; what was being read is dropped, and read again by whoever takes it';

/** What a collector has said already. */
interface Told {
  away: boolean;
  /** Of what audits have asked for: that it is none, or some. */
  asked: 'nothing' | 'none' | 'some';
}

/**
 * Works as long as one session lives. Locks end with it, and others may then take the nodes: all
 * reading ends with the session, too.
 */
async function inOneSession(deps: CollectorDeps, told: Told): Promise<void> {
  const { database, queue, takes } = deps;
  const lost = new AbortController();
  const ended = database.onEnd(() => lost.abort());
  const over = AbortSignal.any([lost.signal, deps.stop]);
  // Every node that is being read listens to it.
  setMaxListeners(0, over);
  const running = new Map<string, Promise<void>>();
  const beat = heartbeat(deps, over, () => lost.abort());
  try {
    while (!over.aborted) {
      const before = running.size;
      const there = await queue.queues();
      const queues = there.filter((name) => fallsTo(name, takes));
      if (told.away) deps.say('the server of the queue is there again');
      told.away = false;
      if (queues.length === 0) sayOthers(there, deps, told);
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

/**
 * For whom a word was misspelt, or an audit forgotten: what others were asked for, once. Sites that come
 * later are not told.
 */
function sayOthers(names: readonly string[], { say }: CollectorDeps, told: Told): void {
  const words = names.flatMap((name) => {
    const place = queuePlace(name);
    if (place === undefined) return [];
    return [place.reach === '' ? `'${place.site}'` : `'${place.site}' reach '${place.reach}'`];
  });
  const asked = words.length === 0 ? 'none' : 'some';
  if (told.asked === asked || told.asked === 'some') return;
  told.asked = asked;
  const more = words.length > namedMax ? ` and ${words.length - namedMax} more` : '';
  say(
    words.length === 0
      ? 'no audit with --collect has used this server yet; waiting for one'
      : `no audit has asked for what it takes yet; audits have asked for ${words.slice(0, namedMax).join(', ')}${more}`,
  );
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
