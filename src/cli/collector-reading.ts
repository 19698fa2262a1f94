import { collectSurvey } from '../collect/collect-survey.ts';
import { type PlannedNode, planSurvey } from '../collect/plan.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { Intent } from '../intent/types.ts';
import { type AskedNode, planOf } from '../share/asked-node.ts';
import type { Ends } from '../share/read-job.ts';
import type { Io } from './io.ts';
import type { ReadersByRun } from './readers-by-run.ts';

/** What a collector reads a node with. */
export interface Reading {
  /** What bounds the queue; absent: nothing. */
  readonly intent: Intent | undefined;
  readonly ends: Ends;
  readonly readers: ReadersByRun;
  readonly say: (line: string) => void;
}

/** Reads a node that was asked for, or says why it may not; tells here what kept it from being read. */
export async function readAsked(
  asked: AskedNode,
  { intent, ends, readers, say }: Reading,
  io: Io,
): Promise<NodeSurvey> {
  const node = intent === undefined ? asked.node : declared(asked, intent);
  const where = `${asked.site}: ${asked.node.name}`;
  if (node !== undefined) say(where);
  const survey =
    node === undefined
      ? await unasked(asked, io)
      : await readOne({ ...asked, node }, { readers, ends }, io);
  // What ends with the session is read again, by whoever takes it: that is told once, for all nodes.
  if (ends.session.aborted) return survey;
  for (const { trouble } of survey.readings)
    if (trouble !== undefined) say(`${where} not read: ${trouble.seen}; ${trouble.remedy}`);
  return fromHere(survey);
}

/** The node as this collector's own intent declares it, so that the queue can only choose. */
function declared({ site, node }: AskedNode, intent: Intent): PlannedNode | undefined {
  if (intent.site !== site) return undefined;
  const own = planSurvey(intent).nodes.find(({ name }) => name === node.name);
  if (own === undefined || own.access.some(({ via }) => via === 'local')) return undefined;
  const { farPorts: _, ...alone } = own;
  return alone;
}

const notDeclared: Trouble = {
  kind: 'secret-missing',
  seen: 'the intent that its collector was given does not declare this node',
  remedy: 'give the collector the same intent as the audit',
};

async function unasked(asked: AskedNode, io: Io): Promise<NodeSurvey> {
  return only(
    await collectSurvey(planOf(asked), {
      read: async () => ({ ok: false, trouble: notDeclared }),
      resolve: async () => undefined,
      topics: new Set(asked.topics),
      now: io.now,
      signal: io.signal,
    }),
  );
}

const leaseOver: Trouble = {
  kind: 'time-over',
  seen: 'it took longer than a collector has for one node',
  remedy: 'whoever takes it next reads it again, and has no more time; look what keeps it',
};

async function readOne(
  asked: AskedNode,
  { readers, ends }: { readonly readers: ReadersByRun; readonly ends: Ends },
  io: Io,
): Promise<NodeSurvey> {
  const reader = readers.of(asked.run, ends.session);
  return only(
    await collectSurvey(planOf(asked), {
      read: io.read ?? reader.read,
      resolve: reader.resolve,
      topics: new Set(asked.topics),
      now: io.now,
      signal: ends.node,
      // With it the reading ends with the signal, whatever the node does; the answer is dropped then.
      cutOff: leaseOver,
    }),
  );
}

/** The report is read elsewhere, and secrets and host keys are those of this machine. */
function fromHere(survey: NodeSurvey): NodeSurvey {
  const readings = survey.readings.map((reading) =>
    reading.trouble === undefined ? reading : { ...reading, trouble: placed(reading.trouble) },
  );
  return { ...survey, readings };
}

function placed(trouble: Trouble): Trouble {
  return { ...trouble, remedy: `where its collector runs: ${trouble.remedy}` };
}

function only({ nodes: [node] }: { readonly nodes: readonly NodeSurvey[] }): NodeSurvey {
  if (node === undefined) throw new Error('a plan of one node gave none');
  return node;
}
