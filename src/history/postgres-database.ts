import { setTimeout as wait } from 'node:timers/promises';
import type { Client } from 'pg';
import type { Database, SqlValue } from './database.ts';
import { postgresSql } from './postgres-sql.ts';
import { isAway, isLost } from './server-fault.ts';
import { StoreFault } from './store-fault.ts';

/** Statements that are on their way at one time. */
const inFlightMax = 500;
/** How long a run waits for a server that it has lost, and how often it tries, in milliseconds. */
const reconnectMs = 30_000;
const reconnectEveryMs = 500;
/** Longer than a server takes to find out that a session is lost; see `keepAlives`. */
const takeAgainMs = 12_000;
/** How long the end of a session may take. */
const closeMs = 1000;

/** Opens one session; `onEnd` is called when it is over, by whomever. */
export type OpenSession = (onEnd: () => void) => Promise<Client>;

/** A PostgreSQL database that the store shares with other machines. */
export interface PostgresDatabase extends Database {
  readonly shared: NonNullable<Database['shared']>;
  /** Runs a text as it is, for the queue. */
  readonly run: (text: string, values?: readonly unknown[]) => Promise<{ rows: unknown[] }>;
  /** Calls `listener` when a session ends; gives what takes it away again. */
  readonly onEnd: (listener: () => void) => () => void;
  /** Whether the server answers, again or still. */
  readonly isBack: () => Promise<boolean>;
}

/**
 * A database of the store on a server. A session that was lost between two pieces of work is made
 * anew, with its locks; one that is lost in a transaction fails it, and the server takes all of it back.
 */
export function postgresDatabase(open: OpenSession): PostgresDatabase {
  const locks = new Set<string>();
  let sessions = 0;
  let current: Client | undefined;
  let opening: Promise<Client> | undefined;
  let inTransaction = false;
  const listeners = new Set<() => void>();

  const begin = async (): Promise<Client> => {
    let mine: Client | undefined;
    const onEnd = () => {
      if (current !== mine) return;
      current = undefined;
      for (const listener of listeners) listener();
    };
    // A server that is only restarting is waited for, but not at the beginning of a run.
    const client = await (sessions === 0 ? open(onEnd) : patiently(() => open(onEnd)));
    mine = client;
    for (const name of locks) {
      if (await takeAgain(client, name)) continue;
      await client.end();
      throw new StoreFault(
        'locked',
        'the connection to the server was lost, and another run has begun meanwhile; run this again',
      );
    }
    sessions += 1;
    current = client;
    return client;
  };
  const session = async (): Promise<Client> => {
    if (current !== undefined) return current;
    if (inTransaction) throw new Error('Connection terminated in a transaction');
    opening ??= begin().finally(() => {
      opening = undefined;
    });
    return opening;
  };
  const query = async (text: string, values?: readonly unknown[]) => {
    const client = await session();
    try {
      return await client.query<Record<string, SqlValue>>(
        values === undefined ? text : { text, values: [...values] },
      );
    } catch (error) {
      if (isLost(error) && current === client) {
        current = undefined;
        for (const listener of listeners) listener();
      }
      throw error;
    }
  };
  const all: Database['all'] = async (sql, values = []) =>
    (await query(postgresSql(sql), values)).rows;
  return {
    all,
    run: query,
    each: async (sql, lists) => {
      for (let at = 0; at < lists.length; at += inFlightMax)
        await settled(lists.slice(at, at + inFlightMax).map((values) => all(sql, values)));
    },
    transaction: async (work) => {
      await query('begin');
      inTransaction = true;
      try {
        await query(
          "select pg_advisory_xact_lock(hashtextextended('hopgauge write ' || current_schema(), 0))",
        );
        const result = await work();
        await query('commit');
        return result;
      } catch (error) {
        // What was lost is taken back by the server itself.
        await current?.query('rollback').catch(() => undefined);
        throw error;
      } finally {
        inTransaction = false;
      }
    },
    hasTable: async (name) => {
      const [row] = await all(
        `select current_schema() as here, exists (
          select 1 from pg_tables where schemaname = current_schema() and tablename = $1) as there`,
        [name],
      );
      // Who may use no schema sees no table, which does not say that there is none.
      if (row?.['here'] === null)
        throw new StoreFault(
          'unusable',
          'the user may use no schema of this database; see the roles in README',
        );
      return Boolean(row?.['there']);
    },
    compact: async () => {
      for (const table of await tables(all)) await query(`vacuum "${table}"`);
    },
    faults: () => faultsIn(all),
    shared: {
      session: () => sessions,
      tryLock: async (name) => {
        const taken = await takeLock(await session(), name);
        if (taken) locks.add(name);
        return taken;
      },
    },
    onEnd: (listener) => {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    },
    isBack: () =>
      session().then(
        () => true,
        () => false,
      ),
    close: async () => {
      const client = current;
      current = undefined;
      if (client === undefined) return;
      const ended = client.end().catch(() => undefined);
      // A server that says nothing any more does not hold the run.
      await Promise.race([ended, wait(closeMs, undefined, { ref: false })]);
      client.connection.stream.destroy();
    },
  };
}

/** Tries again while the server is away. */
async function patiently(open: () => Promise<Client>): Promise<Client> {
  const end = performance.now() + reconnectMs;
  for (;;) {
    try {
      return await open();
    } catch (error) {
      if (!isAway(error) || performance.now() > end) throw error;
      await wait(reconnectEveryMs);
    }
  }
}

/** The first fault, once nothing is on its way any more. */
async function settled(work: readonly Promise<unknown>[]): Promise<void> {
  const outcomes = await Promise.allSettled(work);
  const failed = outcomes.find((outcome) => outcome.status === 'rejected');
  if (failed !== undefined) throw failed.reason;
}

async function takeLock(client: Client, name: string): Promise<boolean> {
  const { rows } = await client.query<{ taken: boolean }>(
    "select pg_try_advisory_lock(hashtextextended('hopgauge ' || $1::text, 0)) as taken",
    [name],
  );
  return rows[0]?.taken === true;
}

/** The server may hold the lock of the lost session until it finds out, too. */
async function takeAgain(client: Client, name: string): Promise<boolean> {
  const end = performance.now() + takeAgainMs;
  for (;;) {
    if (await takeLock(client, name)) return true;
    if (performance.now() > end) return false;
    await wait(reconnectEveryMs);
  }
}

async function tables(all: Database['all']): Promise<readonly string[]> {
  const rows = await all(
    'select tablename as name from pg_tables where schemaname = current_schema() and tableowner = current_user order by 1',
  );
  return rows.map((row) => String(row['name']).replaceAll('"', '""'));
}

/** The server holds keys and rows together by itself; what it cannot read any more is found by reading. */
async function faultsIn(all: Database['all']): Promise<readonly string[]> {
  const found: string[] = [];
  for (const table of await tables(all)) {
    try {
      await all(`select sum(length(t::text)) as read from "${table}" t`);
    } catch (error) {
      if (isLost(error)) throw error;
      found.push(`table ${table}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  return found;
}
