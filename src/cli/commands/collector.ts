import { hostname } from 'node:os';
import { migrate } from '../../history/migrate.ts';
import { openServer } from '../../history/open-server.ts';
import type { PostgresDatabase } from '../../history/postgres-database.ts';
import { storeWords } from '../../history/store-place.ts';
import type { Intent } from '../../intent/types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { runCollector } from '../../share/run-collector.ts';
import { workQueue } from '../../share/work-queue.ts';
import { readAsked } from '../collector-reading.ts';
import { inStore, serverStore } from '../history-of.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { CollectorOptions } from '../options.ts';
import { readersByRun } from '../readers-by-run.ts';
import { RunFault } from '../run-fault.ts';
import { collectorPatience } from '../server-patience.ts';

/** Reads what falls to it until it is stopped; gives the exit status. */
export async function collector(options: CollectorOptions, io: Io): Promise<number> {
  const { isServer } = await import('../../history/server-place.ts');
  if (!isServer(options.store))
    throw new RunFault(exitStatuses.usage, [
      '--store: a collector works for a server; write postgres://USER@HOST/DATABASE',
    ]);
  const intent = options.intent === undefined ? undefined : await requireIntent(options.intent, io);
  const store = await serverStore(options.store, io);
  return untilStopped(() =>
    inStore(store, async () => {
      const prepares = options.prepare === true;
      // Who prepares stands beside it; who collects may be started before the server.
      const database = await openServer(
        store.place,
        store.askPassword,
        prepares ? undefined : collectorPatience(io),
      );
      try {
        if (prepares) return await prepare(database, storeWords(store), io);
        await collect(database, { options, intent, where: storeWords(store) }, io);
        return exitStatuses.met;
      } finally {
        await database.close();
      }
    }),
  );
}

/** Who is stopped while it waits for the server has done no wrong. */
async function untilStopped(work: () => Promise<number>): Promise<number> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof RunFault && error.status === exitStatuses.interrupted)
      return exitStatuses.met;
    throw error;
  }
}

async function prepare(database: PostgresDatabase, where: string, io: Io): Promise<number> {
  await migrate(database, where);
  await (await workQueue(database)).prepare([]);
  io.stdout.write(`${clean(where)}: the tables of history and queue are there\n`);
  return exitStatuses.met;
}

interface Collecting {
  readonly options: CollectorOptions;
  readonly intent: Intent | undefined;
  /** The server, in words. */
  readonly where: string;
}

async function collect(
  database: PostgresDatabase,
  { options, intent, where }: Collecting,
  io: Io,
): Promise<void> {
  const say = (line: string) => {
    if (options.quiet !== true) io.stderr.write(`${clean(`collector: ${line}`)}\n`);
  };
  const readers = readersByRun(io);
  const name = `${hostname()}:${process.pid}`;
  const sites = options.site.length === 0 ? 'every site' : options.site.join(', ');
  const reach = options.reach.length === 0 ? '' : `, reach ${options.reach.join(', ')}`;
  say(`${name} takes ${sites}${reach} from ${where}`);
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
      read: (asked, ends) => readAsked(asked, { intent, ends, readers, say }, io),
    });
  } finally {
    readers.close();
  }
}
