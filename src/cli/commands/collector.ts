import { hostname } from 'node:os';
import { collectSurvey } from '../../collect/collect-survey.ts';
import { type PlannedNode, planSurvey } from '../../collect/plan.ts';
import type { NodeSurvey } from '../../facts/survey.ts';
import type { Trouble } from '../../facts/trouble.ts';
import { migrate } from '../../history/migrate.ts';
import { openServer } from '../../history/open-server.ts';
import type { PostgresDatabase } from '../../history/postgres-database.ts';
import { storeWords } from '../../history/store-place.ts';
import type { Intent } from '../../intent/types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { type AskedNode, planOf } from '../../share/asked-node.ts';
import { type Ends, runCollector } from '../../share/run-collector.ts';
import { workQueue } from '../../share/work-queue.ts';
import { inStore, serverStore } from '../history-of.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { CollectorOptions } from '../options.ts';
import { type ReadersByRun, readersByRun } from '../readers-by-run.ts';
import { RunFault } from '../run-fault.ts';

/** Reads what falls to it until it is stopped; gives the exit status. */
export async function collector(options: CollectorOptions, io: Io): Promise<number> {
  const { isServer } = await import('../../history/server-place.ts');
  if (!isServer(options.store))
    throw new RunFault(exitStatuses.usage, [
      '--store: a collector works for a server; write postgres://USER@HOST/DATABASE',
    ]);
  const intent = options.intent === undefined ? undefined : await requireIntent(options.intent, io);
  const store = await serverStore(options.store, io);
  return inStore(store, async () => {
    const database = await openServer(store.place, store.askPassword);
    try {
      if (options.prepare === true) return await prepare(database, storeWords(store), io);
      await collect(database, { options, intent }, io);
      return exitStatuses.met;
    } finally {
      await database.close();
    }
  });
}

async function prepare(database: PostgresDatabase, where: string, io: Io): Promise<number> {
  await migrate(database, where);
  await (await workQueue(database)).prepare([]);
  io.stdout.write(`${clean(where)}: the tables of history and queue are there\n`);
  return exitStatuses.met;
}

async function collect(
  database: PostgresDatabase,
  { options, intent }: { readonly options: CollectorOptions; readonly intent: Intent | undefined },
  io: Io,
): Promise<void> {
  const say = (line: string) => {
    if (options.quiet !== true) io.stderr.write(`${clean(`collector: ${line}`)}\n`);
  };
  const readers = readersByRun(io);
  const name = `${hostname()}:${process.pid}`;
  const sites = options.site.length === 0 ? 'every site' : options.site.join(', ');
  say(
    `${name} takes ${sites}${options.reach.length === 0 ? '' : `, reach ${options.reach.join(', ')}`}`,
  );
  try {
    await runCollector({
      database,
      queue: await workQueue(database),
      takes: { sites: options.site, reaches: options.reach },
      name,
      atOnce: options.atOnce,
      now: io.now,
      stop: io.signal,
      say,
      read: async (asked, ends) => {
        const node = intent === undefined ? asked.node : declared(asked, intent);
        if (node === undefined) return unasked(asked, io);
        say(`${asked.site}: ${node.name}`);
        return readOne({ ...asked, node }, { readers, ends }, io);
      },
    });
  } finally {
    readers.close();
  }
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
      cutOff: { kind: 'time-over', seen: 'the collector was stopped', remedy: 'run it again' },
    }),
  );
}

function only({ nodes: [node] }: { readonly nodes: readonly NodeSurvey[] }): NodeSurvey {
  if (node === undefined) throw new Error('a plan of one node gave none');
  return node;
}
