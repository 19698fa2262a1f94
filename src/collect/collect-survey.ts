import pLimit from 'p-limit';
import { cleanText } from '../facts/clean-text.ts';
import type { ReadTopic } from '../facts/read-topics.ts';
import type { NodeSurvey, Reading, Survey } from '../facts/survey.ts';
import { type Trouble, troubleKinds } from '../facts/trouble.ts';
import type { Access } from '../intent/types.ts';
import { asleepTrouble } from './asleep.ts';
import { mergeReadings } from './merge-readings.ts';
import { isLiteralAddress, type PlannedNode, type SurveyPlan } from './plan.ts';
import type { NodeReading, ReadOutcome, ReadRequest } from './types.ts';

/** Nodes read at one time. One request is in flight per agent, one login per host. */
export const nodesAtOnceMax = 48;

/** What the collector needs from outside. */
export interface CollectDeps {
  /** Reads one node by one access; never throws for what the node does. */
  readonly read: (node: PlannedNode, access: Access, request: ReadRequest) => Promise<ReadOutcome>;
  /** Address that a name stands for; undefined when nobody knows. Asked once per name. */
  readonly resolve: (name: string) => Promise<string | undefined>;
  /** What is worth its cost in this run. */
  readonly topics: ReadonlySet<ReadTopic>;
  readonly now: () => Date;
  readonly signal: AbortSignal;
  /**
   * What a node has that `signal` cut off before it was read. Where it is given, reading ends with
   * the signal even if a reader does not; absent: the run was interrupted.
   */
  readonly cutOff?: Trouble;
  readonly onNode?: (progress: { readonly done: number; readonly of: number }) => void;
}

/**
 * Reads all nodes of a plan, several at a time. A node that cannot be read is in the survey with
 * its trouble; it costs its own time limit and nothing else.
 */
export async function collectSurvey(plan: SurveyPlan, deps: CollectDeps): Promise<Survey> {
  const limit = pLimit(nodesAtOnceMax);
  const addressOf = onceEach((name) => peerAddress(name, plan, deps));
  return surveyBy((node) => limit(() => readNode(node, { deps, addressOf })), plan, deps);
}

/**
 * Makes a survey of what `ask` gives for each node; it never throws for what a node does. Who may
 * sleep comes last: the ports at the other end tell whether it does, and then it is not asked.
 */
export async function surveyBy(
  ask: (node: PlannedNode) => Promise<NodeSurvey>,
  plan: SurveyPlan,
  { now, onNode }: Pick<CollectDeps, 'now' | 'onNode'>,
): Promise<Survey> {
  const startedAt = now().toISOString();
  let done = 0;
  const read = new Map<string, NodeSurvey>();
  const readAll = (nodes: readonly PlannedNode[]) =>
    Promise.all(
      nodes.map(async (node) => {
        const asleep = asleepTrouble(node.farPorts ?? [], read);
        const survey = asleep === undefined ? await ask(node) : unreadNode(node, asleep, now());
        read.set(node.name, survey);
        done += 1;
        onNode?.({ done, of: plan.nodes.length });
      }),
    );
  await readAll(plan.nodes.filter(({ farPorts }) => farPorts === undefined));
  // The second wave looks at what the first has read, and not at itself.
  await readAll(plan.nodes.filter(({ farPorts }) => farPorts !== undefined));
  const nodes = plan.nodes.flatMap(({ name }) => read.get(name) ?? []);
  return { survey: 1, site: plan.site, startedAt, endedAt: now().toISOString(), nodes };
}

interface Around {
  readonly deps: CollectDeps;
  readonly addressOf: (node: string) => Promise<string | undefined>;
}

async function readNode(node: PlannedNode, around: Around): Promise<NodeSurvey> {
  const { deps, addressOf } = around;
  const found = await Promise.all(node.peerNames.map(addressOf));
  const peers = [...new Set(found.filter((address) => address !== undefined))];
  const readings: Reading[] = [];
  const read: NodeReading[] = [];
  // One after another: the accesses of one node share its management processor.
  for (const access of node.access) {
    const startedAt = deps.now();
    const outcome = await guarded(deps, () =>
      deps.read(node, access, { peers, topics: deps.topics }),
    );
    readings.push({
      by: access.via,
      at: node.at ?? 'this machine',
      startedAt: startedAt.toISOString(),
      tookMs: Math.max(0, deps.now().getTime() - startedAt.getTime()),
      ...(outcome.ok ? {} : { trouble: outcome.trouble }),
    });
    if (outcome.ok) read.push(outcome.reading);
  }
  return { node: node.name, readings, ...withTroubleGaps(mergeReadings(read), readings) };
}

/** A node that was not asked, with the reason in the place of an answer. */
export function unreadNode(node: PlannedNode, trouble: Trouble, now: Date): NodeSurvey {
  const startedAt = now.toISOString();
  const at = node.at ?? 'this machine';
  const readings = node.access
    .slice(0, 1)
    .map(({ via }) => ({ by: via, at, startedAt, tookMs: 0, trouble }));
  return { node: node.name, readings, ...withTroubleGaps(mergeReadings([]), readings) };
}

async function guarded(deps: CollectDeps, read: () => Promise<ReadOutcome>): Promise<ReadOutcome> {
  if (deps.signal.aborted) return { ok: false, trouble: deps.cutOff ?? interrupted };
  try {
    return await (deps.cutOff === undefined ? read() : readUntil(deps.signal, deps.cutOff, read));
  } catch (error) {
    // A reader that throws is a bug of ours; it must not take the other nodes with it.
    const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    return { ok: false, trouble: { ...bug, seen: `${bug.seen}: ${cleanText(words, 160)}` } };
  }
}

/** A reader that does not end with the signal is left to itself. */
function readUntil(
  signal: AbortSignal,
  cutOff: Trouble,
  read: () => Promise<ReadOutcome>,
): Promise<ReadOutcome> {
  return new Promise((resolve, reject) => {
    const onCut = () => resolve({ ok: false, trouble: cutOff });
    signal.addEventListener('abort', onCut, { once: true });
    read()
      .then(resolve, reject)
      .finally(() => signal.removeEventListener('abort', onCut));
  });
}

const interrupted: Trouble = {
  kind: 'time-over',
  seen: 'the run was interrupted before this node was read',
  remedy: 'run it again',
};

const bug: Trouble = {
  kind: 'fault',
  seen: 'hopgauge failed while reading this node',
  remedy: 'report this, with the output of --verbose',
};

/** What no access told of a node that was not read at all is absent for the node's trouble. */
function withTroubleGaps(
  merged: ReturnType<typeof mergeReadings>,
  readings: readonly Reading[],
): Omit<NodeSurvey, 'node' | 'readings'> {
  const trouble = readings.find((reading) => reading.trouble !== undefined)?.trouble;
  const unread = readings.every((reading) => reading.trouble !== undefined);
  if (!unread || trouble === undefined) return merged;
  const gap = { reason: troubleKinds[trouble.kind], words: trouble.seen };
  return { ...merged, gaps: { systemKind: gap, ...merged.gaps } };
}

async function peerAddress(
  name: string,
  plan: SurveyPlan,
  deps: CollectDeps,
): Promise<string | undefined> {
  const at = plan.whereabouts.get(name);
  if (at === undefined) return undefined;
  const address = isLiteralAddress(at) ? at : await deps.resolve(at);
  return address !== undefined && isLiteralAddress(address) ? address : undefined;
}

function onceEach<T>(work: (name: string) => Promise<T>): (name: string) => Promise<T> {
  const known = new Map<string, Promise<T>>();
  return (name) => {
    const begun = known.get(name) ?? work(name);
    known.set(name, begun);
    return begun;
  };
}
