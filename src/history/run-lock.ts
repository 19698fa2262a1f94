import { chmodSync } from 'node:fs';
import type { Database } from './database.ts';
import { findEngine, type OpenEngine } from './sqlite-engine.ts';
import { StoreFault, storeFault } from './store-fault.ts';
import { type StorePlace, storeWords } from './store-place.ts';

/** Keeps a second audit of the same store out until it is released. */
export interface RunLock {
  readonly release: () => void;
}

/**
 * Keeps a second audit out: of the same file, or on a server of the same site, since there many sites
 * share one store. Throws `StoreFault` of the kind `locked` at once when another run holds it.
 */
export async function lockRun(
  store: StorePlace,
  database: Database,
  site: string,
): Promise<RunLock> {
  if (typeof store === 'string') return takeRunLock(store);
  // The lock ends with the session, whatever ends that.
  if ((await database.shared?.tryLock(`audit ${site}`)) !== false)
    return { release: () => undefined };
  throw new StoreFault(
    'locked',
    `${storeWords(store)}: another audit of ${site} is running on it; wait for its end, or see that it is not stuck`,
  );
}

/**
 * Takes the lock of a file. It is a transaction on a file beside the store, which the system ends
 * with the process, so that no killed run leaves a lock behind. Throws `StoreFault` of the kind
 * `locked` at once when another run holds it.
 */
export function takeRunLock(
  storeFile: string,
  engine: OpenEngine | undefined = findEngine(),
): RunLock {
  if (engine === undefined) return { release: () => undefined };
  const file = `${storeFile}.lock`;
  let lock: ReturnType<OpenEngine> | undefined;
  try {
    lock = engine(file, { busyMs: 0 });
    chmodSync(file, 0o600);
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock?.close();
    const fault = storeFault(storeFile, error);
    if (fault.kind !== 'locked') throw fault;
    throw new StoreFault(
      'locked',
      `${storeFile}: another audit is running on it; wait for its end, or see that it is not stuck`,
    );
  }
  const held = lock;
  return { release: () => held.close() };
}
