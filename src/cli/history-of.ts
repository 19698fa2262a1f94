import { type ClosedNight, closeNight, type Evening } from '../drift/close-night.ts';
import type { KeptResult } from '../drift/kept-result.ts';
import type { Past } from '../drift/night.ts';
import type { SitePast } from '../drift/site-past.ts';
import { proofDaysMax } from '../facts/newest-proofs.ts';
import type { Proofs } from '../facts/proof.ts';
import type { RunLock } from '../history/run-lock.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';

/** The history of one site, held for one run. */
export interface HeldHistory {
  readonly past: Past;
  /** What active tests have shown that still counts, the newest of each direction. */
  readonly proofs: Proofs;
  /** What a page draws of the nights before; read when it is asked for. */
  readonly drawn: () => Promise<SitePast>;
  /** Compares tonight with it; nothing is written. */
  readonly close: (evening: Omit<Evening, 'past'>) => ClosedNight;
  /** Writes a night, and its result for pages; ends the run where that fails. */
  readonly write: (closed: ClosedNight, result: KeptResult) => Promise<void>;
  readonly release: () => Promise<void>;
}

/** Opens the history of a site for one audit, so that no second one runs on it meanwhile. */
export async function holdHistory(
  site: string,
  store: string | undefined,
  io: Io,
): Promise<HeldHistory> {
  const [{ openStore }, { takeRunLock }, { readPast }, { readSitePast }, { writeNight }, kept] =
    await Promise.all([
      import('../history/open-store.ts'),
      import('../history/run-lock.ts'),
      import('../history/read-past.ts'),
      import('../history/read-site-past.ts'),
      import('../history/write-night.ts'),
      import('../history/kept-proofs.ts'),
    ]);
  const file = await storeFile(store, io);
  return inStore(file, async () => {
    const database = await openStore(file);
    let lock: RunLock | undefined;
    const release = async () => {
      lock?.release();
      await database.close();
    };
    try {
      lock = takeRunLock(file);
      const past = await readPast(database, site);
      const proofs = await kept.readProofs(database, { site, since: countsSince(io.now()) });
      return {
        past,
        proofs,
        close: (evening) => closeNight({ ...evening, past }),
        drawn: () => inStore(file, () => readSitePast(database, site)),
        write: ({ night }, result) => inStore(file, () => writeNight(database, night, result)),
        release,
      };
    } catch (error) {
      await release();
      throw error;
    }
  });
}

/** Proofs of before this time count no longer, ISO 8601. */
function countsSince(now: Date): string {
  return new Date(now.getTime() - proofDaysMax * dayMs).toISOString();
}

const dayMs = 86_400_000;

/** The file that `--store` names, from the working folder, else the default one. */
export async function storeFile(store: string | undefined, io: Io): Promise<string> {
  const { defaultStorePath } = await import('../history/store-path.ts');
  if (store === undefined) return defaultStorePath(io.env, io.own.home);
  const { resolve } = await import('node:path');
  return resolve(io.workingFolder ?? '.', store);
}

/** Runs work on a store; what files and disks do to it ends the run with a line for the operator. */
export async function inStore<T>(file: string, work: () => Promise<T>): Promise<T> {
  const { storeFault } = await import('../history/store-fault.ts');
  try {
    return await work();
  } catch (error) {
    if (error instanceof RunFault) throw error;
    const fault = storeFault(file, error);
    const status = fault.kind === 'locked' ? exitStatuses.storeLocked : exitStatuses.cannotWrite;
    throw new RunFault(status, [clean(placed(file, fault.message))]);
  }
}

/** Where it happened comes first, once. */
function placed(file: string, message: string): string {
  return message.startsWith(file) ? message : `${file}: ${message}`;
}
