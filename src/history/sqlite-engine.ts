import { createRequire } from 'node:module';
import type { SqlRow, SqlValue } from './database.ts';

/** One prepared statement of an engine. */
export interface Statement {
  readonly all: (values: readonly SqlValue[]) => readonly SqlRow[];
  readonly run: (values: readonly SqlValue[]) => void;
}

/** SQLite as either of its two bindings offers it. All calls block and throw. */
export interface SqliteEngine {
  readonly prepare: (sql: string) => Statement;
  readonly exec: (sql: string) => void;
  readonly close: () => void;
}

/** How a database file is opened. */
export interface EngineOptions {
  /** How long to wait for another writer. */
  readonly busyMs: number;
}

/** What opens a database file; throws as the binding does. */
export type OpenEngine = (file: string, options: EngineOptions) => SqliteEngine;

/** The first release of Node whose own SQLite prints no warning that it is an experiment. */
const ownSqliteFrom = 24;

/**
 * The SQLite of this Node where it has one that is stable, else the package `better-sqlite3`;
 * undefined where neither is there, as on a machine without a compiler.
 */
export function findEngine(nodeVersion: string = process.versions.node): OpenEngine | undefined {
  const major = Number(/^\d+/.exec(nodeVersion)?.[0] ?? 0);
  return (major >= ownSqliteFrom ? ownEngine() : undefined) ?? packageEngine();
}

const require = createRequire(import.meta.url);

/** `$1` and `$n` are named parameters to both bindings. */
function named(values: readonly SqlValue[]): Record<string, SqlValue> {
  return Object.fromEntries(values.map((value, at) => [String(at + 1), value]));
}

interface OwnModule {
  readonly DatabaseSync: new (
    file: string,
    options: { timeout: number },
  ) => {
    exec(sql: string): void;
    prepare(sql: string): {
      all(values?: Record<string, SqlValue>): SqlRow[];
      run(values?: Record<string, SqlValue>): unknown;
    };
    close(): void;
  };
}

function ownEngine(): OpenEngine | undefined {
  const found = tried(() => require('node:sqlite') as OwnModule);
  if (found === undefined) return undefined;
  return (file, { busyMs }) => {
    const database = new found.DatabaseSync(file, { timeout: busyMs });
    return {
      exec: (sql) => database.exec(sql),
      prepare: (sql) => {
        const statement = database.prepare(sql);
        return {
          all: (values) => (values.length === 0 ? statement.all() : statement.all(named(values))),
          run: (values) => {
            if (values.length === 0) statement.run();
            else statement.run(named(values));
          },
        };
      },
      close: () => database.close(),
    };
  };
}

type PackageModule = typeof import('better-sqlite3');

function packageEngine(): OpenEngine | undefined {
  const Engine = tried(() => {
    const found = require('better-sqlite3') as PackageModule;
    // The package loads its compiled part only when a database is opened.
    new found(':memory:').close();
    return found;
  });
  if (Engine === undefined) return undefined;
  return (file, { busyMs }) => {
    const database = new Engine(file, { timeout: busyMs });
    return {
      exec: (sql) => {
        database.exec(sql);
      },
      prepare: (sql) => {
        const statement = database.prepare<unknown[], SqlRow>(sql);
        const bound = (values: readonly SqlValue[]) => (values.length === 0 ? [] : [named(values)]);
        return {
          all: (values) => {
            if (statement.reader) return statement.all(...bound(values));
            statement.run(...bound(values));
            return [];
          },
          run: (values) => {
            statement.run(...bound(values));
          },
        };
      },
      close: () => {
        database.close();
      },
    };
  };
}

function tried<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}
