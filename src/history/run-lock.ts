import { chmodSync } from 'node:fs';
import { findEngine, type OpenEngine } from './sqlite-engine.ts';
import { StoreFault, storeFault } from './store-fault.ts';

/** Keeps a second audit of the same store out until it is released. */
export interface RunLock {
  readonly release: () => void;
}

/**
 * Takes the lock of a store. It is a transaction on a file beside the store, which the system ends
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
