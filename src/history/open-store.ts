import { chmodSync, existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../files/make-folder.ts';
import type { Database } from './database.ts';
import { engineAdvice } from './engine-advice.ts';
import { migrate } from './migrate.ts';
import { openServer, type Patience } from './open-server.ts';
import { serverFault } from './server-fault.ts';
import { sqliteDatabase } from './sqlite-database.ts';
import { findEngine, type OpenEngine, type SqliteEngine } from './sqlite-engine.ts';
import { StoreFault, storeFault } from './store-fault.ts';
import { type ServerStore, type StorePlace, storeWords } from './store-place.ts';

/** Wait for another writer; a night is written in a second or two. */
const busyMs = 5000;

/** How a store is opened. */
export interface OpenOptions {
  /** Only what exists is opened, and nothing is written. */
  readonly existing?: boolean;
  /** For a server that is away; absent: it is not waited for. */
  readonly patience?: Patience;
  /** Absent: what this Node and its packages offer. */
  readonly engine?: OpenEngine;
}

/**
 * Opens the store in a file or on a server, which becomes one where it does not exist. Only its
 * owner may read a file. Throws `StoreFault` for all that files, disks and servers do.
 */
export async function openStore(store: StorePlace, options: OpenOptions = {}): Promise<Database> {
  return typeof store === 'string' ? openFile(store, options) : openOnServer(store, options);
}

function noHistory(where: string): StoreFault {
  return new StoreFault(
    'unusable',
    `${where}: there is no history yet; hopgauge audit --changes begins one`,
  );
}

async function openOnServer(
  store: ServerStore,
  { existing, patience }: OpenOptions,
): Promise<Database> {
  const words = storeWords(store);
  const database = await openServer(store.place, store.askPassword, patience);
  try {
    if (existing === true && !(await database.hasTable('store_version'))) throw noHistory(words);
    await migrate(database, words);
    return database;
  } catch (error) {
    await database.close();
    throw serverFault(words, error);
  }
}

async function openFile(file: string, options: OpenOptions): Promise<Database> {
  const open = options.engine ?? findEngine();
  if (open === undefined) throw new StoreFault('unusable', engineAdvice());
  if (options.existing === true && !existsSync(file)) throw noHistory(file);
  let engine: SqliteEngine | undefined;
  try {
    if (!existsSync(dirname(file))) makeFolder(dirname(file), 0o700);
    engine = open(file, { busyMs });
    chmodSync(file, 0o600);
    for (const pragma of pragmas) engine.exec(pragma);
    const database = sqliteDatabase(engine);
    await migrate(database, file);
    return database;
  } catch (error) {
    engine?.close();
    throw isSystemError(error) ? folderFault(file, error) : storeFault(file, error);
  }
}

/** WAL and NORMAL lose nothing when the process is killed, and at most the last night at a power cut. */
const pragmas = [
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = NORMAL',
  'PRAGMA foreign_keys = ON',
];

function isSystemError(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && 'syscall' in error;
}

function folderFault(file: string, { code = 'unknown fault' }: NodeJS.ErrnoException): StoreFault {
  return new StoreFault(
    'unusable',
    `${file}: its folder cannot be used (${code}); name another file with --store`,
  );
}
