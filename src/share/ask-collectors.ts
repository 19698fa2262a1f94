import { randomUUID } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { unreadNode } from '../collect/collect-survey.ts';
import type { PlannedNode, SurveyPlan } from '../collect/plan.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { PostgresDatabase } from '../history/postgres-database.ts';
import { isLost } from '../history/server-fault.ts';
import { readingIn } from './answer.ts';
import { askedNode } from './asked-node.ts';
import { lockedNodes, nodeKey } from './node-lock.ts';
import { queueName, queuePlace } from './queue-names.ts';
import type { QueueJob, WorkQueue } from './work-queue.ts';

/** How often an audit looks for answers, in milliseconds. */
const lookEveryMs = 300;
/**
 * How long the lock of a node that is being read may be missing before the node is given to another
 * collector. One that lives has it at once; one that lost its session stops asking within this.
 */
const orphanMs = 6000;
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

interface Open {
  readonly job: QueueJob;
  readonly node: PlannedNode;
  readonly resolve: (survey: NodeSurvey) => void;
  /** When its lock was first found missing. */
  missingSince?: number;
  taken: boolean;
}

/** Queues of all nodes of a plan, also of none: those of an earlier run are looked for there too. */
function queuesOf({ site, nodes }: SurveyPlan): readonly string[] {
  const reaches = new Set(nodes.map(({ reach = '' }) => reach));
  return [...reaches].map((reach) => queueName({ site, reach }));
}

/** Begins a run: clears what an earlier one of this site left, and looks after what is asked. */
export async function askCollectors(deps: AskDeps): Promise<AskedCollectors> {
  const { database, queue, plan } = deps;
  const queues = queuesOf(plan);
  await queue.prepare(queues);
  const old = (await queue.queues()).filter((name) => queuePlace(name)?.site === plan.site);
  await queue.clear(old);
  const run = { run: randomUUID(), until: deps.untilTime, topics: [...deps.topics] };
  const open = new Map<string, Open>();
  const fresh: QueueJob[] = [];
  const takenFrom = new Set<string>();
  let closed = false;

  const settle = (id: string, survey: NodeSurvey) => {
    open.get(id)?.resolve(survey);
    open.delete(id);
  };
  const put = async () => {
    const jobs = [...fresh];
    await queue.put(jobs);
    // Only now: what was lost on the way is put again, and the server keeps one of each.
    fresh.splice(0, jobs.length);
  };
  const takeAnswers = async () => {
    const done = await queue.done(queues);
    for (const { id, output, ok } of done) {
      const asked = open.get(id);
      if (asked === undefined) continue;
      takenFrom.add(asked.job.queue);
      const reading = ok ? readingIn(output, asked.node.name) : undefined;
      const trouble = ok ? strangeAnswer : triedOften;
      settle(id, reading ?? unreadNode(asked.node, trouble, deps.now()));
    }
    for (const name of queues)
      await queue.remove(
        name,
        done.filter((job) => job.queue === name).map(({ id }) => id),
      );
  };
  const look = async () => {
    if (fresh.length > 0) await put();
    await takeAnswers();
    if (open.size > 0) await freeOrphans(deps, queues, open);
    for (const { job, taken } of open.values()) if (taken) takenFrom.add(job.queue);
  };
  const giveUp = () => {
    for (const [id, { node, taken }] of open)
      settle(id, unreadNode(node, unanswered(taken, deps), deps.now()));
  };
  const pump = async () => {
    let expiredAt = performance.now();
    while (!closed && !deps.until.aborted) {
      try {
        await look();
        if (performance.now() - expiredAt > expireEveryMs) {
          expiredAt = performance.now();
          await queue.expire();
        }
      } catch (error) {
        // The next look begins a new session, which waits for a server that restarts.
        if (!isLost(error) || !(await database.isBack())) throw error;
      }
      await wait(lookEveryMs, undefined, { signal: deps.until }).catch(() => undefined);
    }
    giveUp();
  };
  const watch = pump();
  return {
    watch,
    ask: (node) =>
      new Promise((resolve) => {
        const place = queueName({ site: plan.site, reach: node.reach ?? '' });
        const job = { queue: place, id: randomUUID(), data: askedNode(node, plan, run) };
        open.set(job.id, { job, node, resolve, taken: false });
        if (deps.until.aborted) giveUp();
        else fresh.push(job);
      }),
    untaken: () => {
      const left = [...open.values()].filter(({ job }) => !takenFrom.has(job.queue));
      return [...new Set(left.map(({ node }) => node.reach ?? ''))];
    },
    close: async () => {
      closed = true;
      await watch.catch(() => undefined);
      await queue.clear(queues).catch((error: unknown) => {
        // The next run of this site clears it.
        if (!isLost(error)) throw error;
      });
    },
  };
}

/** Gives back what a collector had that lives no more: its locks went with its session. */
async function freeOrphans(
  { database, queue, plan }: AskDeps,
  queues: readonly string[],
  open: ReadonlyMap<string, Open>,
): Promise<void> {
  const active = (await queue.active(queues)).flatMap(({ id }) => open.get(id) ?? []);
  if (active.length === 0) return;
  const keyOf = ({ node }: Open) => nodeKey(plan.site, node.name);
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

const strangeAnswer: Trouble = {
  kind: 'fault',
  seen: 'the collector gave an answer that cannot be read',
  remedy: 'run the same version of hopgauge everywhere',
};

const triedOften: Trouble = {
  kind: 'fault',
  seen: 'every collector that took it ended while it read this node',
  remedy: 'look at the logs of the collectors',
};

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
