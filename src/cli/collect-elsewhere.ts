import { surveyBy } from '../collect/collect-survey.ts';
import type { PlannedNode, SurveyPlan } from '../collect/plan.ts';
import { type Limited, withinTime } from '../collect/within-time.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { Patience } from '../history/open-server.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import { inStore, storePlace } from './history-of.ts';
import type { Io } from './io.ts';
import { type Progress, progressOn } from './progress.ts';
import { RunFault } from './run-fault.ts';
import type { Deadline } from './run-time.ts';
import { interrupted, takeSurvey } from './take-survey.ts';

/** How long an audit waits for its collectors where no deadline is given. */
const waitMinutes = 15;
/** After so long without a collector, the operator is told what is waited for, in milliseconds. */
const noticeMs = 20_000;

/** What a survey by collectors takes from the command line. */
export interface ElsewhereOptions {
  /** Address of the server. */
  readonly store: string | undefined;
  readonly quiet: boolean;
  readonly topics: ReadonlySet<ReadTopic>;
  readonly deadline: Deadline | undefined;
  /** Words of the deadline; absent: the usual wait. */
  readonly waitWords: string | undefined;
  /** For a server that is away. */
  readonly patience: Patience;
  /** Tells the operator at once. */
  readonly say: (line: string) => void;
}

/**
 * Lets the collectors of a site read its nodes, each where it can be reached, and waits for them.
 * What reads this machine itself is read here. One run for a site at a time.
 */
export async function collectElsewhere(
  plan: SurveyPlan,
  options: ElsewhereOptions,
  io: Io,
): Promise<Survey> {
  const store = await storePlace(options.store, io);
  if (typeof store === 'string')
    throw new RunFault(exitStatuses.usage, [
      '--collect needs the server that the collectors work for; add --store postgres://USER@HOST/DATABASE',
    ]);
  const [{ openServer }, { workQueue }, { askCollectors }] = await Promise.all([
    import('../history/open-server.ts'),
    import('../share/work-queue.ts'),
    import('../share/ask-collectors.ts'),
  ]);
  return inStore(store, async () => {
    const database = await openServer(store.place, store.askPassword, options.patience);
    const wait = options.deadline === undefined ? waitLimit(io) : undefined;
    try {
      if (!(await database.shared.tryLock(`collect ${plan.site}`))) throw busy(plan.site);
      const until = options.deadline?.reading ?? wait?.signal ?? io.signal;
      const waitWords = options.waitWords ?? `${waitMinutes}m`;
      const asked = await askCollectors({
        database,
        queue: await workQueue(database),
        plan,
        topics: options.topics,
        now: io.now,
        until,
        untilTime: new Date(io.now().getTime() + dayMs).toISOString(),
        waitWords,
      });
      const progress = progressOn(io.stderr, { quiet: options.quiet, env: io.env });
      const notice = setTimeout(() => {
        progress.clear();
        for (const reach of options.quiet ? [] : asked.untaken())
          options.say(untakenLine(plan.site, reach, waitWords));
      }, noticeMs);
      try {
        const survey = surveyBy(
          (node) => (isHere(node) ? readHere(node, plan, options, io) : asked.ask(node)),
          plan,
          { now: io.now, onNode: shownOn(progress, plan) },
        );
        const first = await Promise.race([survey, asked.watch]);
        if (io.signal.aborted) throw interrupted();
        // The watch ends with the wait, and all that was not answered is settled by then.
        return first ?? (await survey);
      } finally {
        clearTimeout(notice);
        await asked.close();
      }
    } finally {
      wait?.clear();
      await database.close();
    }
  });
}

const dayMs = 86_400_000;

/** How long it waits where no deadline of the audit says so. */
function waitLimit(io: Io): Limited {
  return withinTime(waitMinutes * 60_000, io.signal);
}

function busy(site: string): RunFault {
  return new RunFault(exitStatuses.storeLocked, [
    clean(`another audit has ${site} collected now; wait for its end, or see that it is not stuck`),
  ]);
}

function isHere({ access }: PlannedNode): boolean {
  return access.some(({ via }) => via === 'local');
}

async function readHere(
  node: PlannedNode,
  plan: SurveyPlan,
  { topics, deadline }: ElsewhereOptions,
  io: Io,
): Promise<NodeSurvey> {
  const { farPorts: _, ...alone } = node;
  const survey = await takeSurvey({ ...plan, nodes: [alone] }, io, {
    quiet: true,
    topics,
    deadline,
  });
  const [read] = survey.nodes;
  if (read === undefined) throw new Error(`nothing came of ${node.name}`);
  return read;
}

function untakenLine(site: string, reach: string, waitWords: string): string {
  const which = reach === '' ? site : `${site}, reach ${reach}`;
  return clean(
    `${which}: no collector has taken a node yet; look whether one runs that these fall to, by --site and --reach; waiting for it, ${waitWords} in all`,
  );
}

function shownOn(
  progress: Progress,
  { nodes }: SurveyPlan,
): (at: { readonly done: number; readonly of: number }) => void {
  progress.show(`collecting: 0 of ${nodes.length} nodes done`);
  return ({ done, of }) => {
    if (done === of) progress.clear();
    else progress.show(`collecting: ${done} of ${of} nodes done`);
  };
}
