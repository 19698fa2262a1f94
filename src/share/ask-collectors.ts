import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { unreadNode } from '../collect/collect-survey.ts';
import type { PlannedNode, SurveyPlan } from '../collect/plan.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { isLost } from '../history/server-fault.ts';
import { askedNode } from './asked-node.ts';
import { freeOrphans } from './free-orphans.ts';
import { type OpenJobs, settle } from './open-job.ts';
import { queueName, queuePlace } from './queue-names.ts';
import { takeAnswers } from './take-answers.ts';
import type { QueueJob, WorkQueue } from './work-queue.ts';

/** How often an audit looks for answers, in milliseconds. */
const lookEveryMs = 300;
/** How often what is over its lease is looked for. */
const expireEveryMs = 30_000;

/** What asking collectors needs from outside. */
export interface AskDeps {
  readonly database: PostgresDatabase;
  readonly queue: WorkQueue;
  readonly plan: SurveyPlan;
  readonly topics: ReadonlySet<ReadTopic>;
  readonly now: () => Date;
  /** Ends the waiting; what was not answered by then is unread. */
  readonly until: AbortSignal;
  /** When that will be, for collectors; ISO 8601 UTC. */
  readonly untilTime: string;
  /** Words for the whole wait, such as `15m`. */
  readonly waitWords: string;
}

/** Asks the collectors of a site for its nodes. */
export interface AskedCollectors {
  readonly ask: (node: PlannedNode) => Promise<NodeSurvey>;
  /** Reaches of nodes of which no collector has taken any yet. */
  readonly untaken: () => readonly string[];
  /** Takes away what still lies in the queue. */
  readonly close: () => Promise<void>;
  /** Fails where the server cannot be used any more; never fulfils before `close`. */
  readonly watch: Promise<void>;
}

/** Queues of all nodes of a plan, also of none: those of an earlier run are looked for there too. */
function queuesOf({ site, nodes }: SurveyPlan): readonly string[] {
  const reaches = new Set(nodes.map(({ reach = '' }) => reach));
  return [...reaches].map((reach) => queueName({ site, reach }));
}

/** Begins a run: clears what an earlier one of this site left, and looks after what is asked. */
export async function askCollectors(deps: AskDeps): Promise<AskedCollectors> {
  const { queue, plan } = deps;
  const queues = queuesOf(plan);
  await queue.prepare(queues);
  const old = (await queue.queues()).filter((name) => queuePlace(name)?.site === plan.site);
  await queue.clear(old);
  const run = { run: randomUUID(), until: deps.untilTime, topics: [...deps.topics] };
  const asking: Asking = { queues, open: new Map(), fresh: [], takenFrom: new Set() };
  const { open, fresh, takenFrom } = asking;
  const done = new AbortController();
  const watch = pump(asking, deps, done.signal);
  return {
    watch,
    ask: (node) =>
      new Promise((resolve) => {
        const place = queueName({ site: plan.site, reach: node.reach ?? '' });
        const job = { queue: place, id: randomUUID(), data: askedNode(node, plan, run) };
        open.set(job.id, { job, node, resolve, taken: false });
        if (deps.until.aborted) giveUp(open, deps);
        else fresh.push(job);
      }),
    untaken: () => {
      const left = [...open.values()].filter(({ job }) => !takenFrom.has(job.queue));
      return [...new Set(left.map(({ node }) => node.reach ?? ''))];
    },
    close: async () => {
      done.abort();
      await watch.catch(() => undefined);
      await queue.clear(queues).catch((error: unknown) => {
        // The next run of this site clears it.
        if (!isLost(error)) throw error;
      });
    },
  };
}

/** What one run has asked for. */
interface Asking {
  readonly queues: readonly string[];
  readonly open: OpenJobs;
  /** Not in the queue yet. */
  readonly fresh: QueueJob[];
  /** Queues of which a collector has taken a node. */
  readonly takenFrom: Set<string>;
}

/** Looks after what was asked until the run has its answers or its time is over. */
async function pump(asking: Asking, deps: AskDeps, done: AbortSignal): Promise<void> {
  const { database, queue, until } = deps;
  let expiredAt = performance.now();
  while (!done.aborted && !until.aborted) {
    try {
      await look(asking, deps);
      if (performance.now() - expiredAt > expireEveryMs) {
        expiredAt = performance.now();
        await queue.expire();
      }
    } catch (error) {
      // The next look begins a new session, which waits for a server that restarts.
      if (!isLost(error) || !(await database.isBack())) throw error;
    }
    await wait(lookEveryMs, undefined, { signal: until }).catch(() => undefined);
  }
  giveUp(asking.open, deps);
}

async function look({ queues, open, fresh, takenFrom }: Asking, deps: AskDeps): Promise<void> {
  const { database, queue, plan, now } = deps;
  if (fresh.length > 0) {
    const jobs = [...fresh];
    await queue.put(jobs);
    // Only now: what was lost on the way is put again, and the server keeps one of each.
    fresh.splice(0, jobs.length);
  }
  for (const name of await takeAnswers({ queue, queues, now }, open)) takenFrom.add(name);
  if (open.size > 0) await freeOrphans({ database, queue, site: plan.site, queues }, open);
  for (const { job, taken } of open.values()) if (taken) takenFrom.add(job.queue);
}

function giveUp(open: OpenJobs, deps: AskDeps): void {
  for (const [id, { node, taken }] of open)
    settle(open, id, unreadNode(node, unanswered(taken, deps), deps.now()));
}

function unanswered(taken: boolean, { waitWords, plan }: AskDeps): Trouble {
  return {
    kind: 'time-over',
    seen: taken
      ? `time over: a collector took it, and gave no answer within ${waitWords}`
      : `time over: no collector of ${plan.site} took it within ${waitWords}`,
    remedy: taken
      ? 'look at the log of the collector, or give more time with --deadline'
      : 'look whether a collector runs that this node falls to, by --site and --reach',
  };
}
