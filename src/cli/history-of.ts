import { type ClosedNight, closeNight, type Evening } from '../drift/close-night.ts';
import type { KeptResult } from '../drift/kept-result.ts';
import type { Past } from '../drift/night.ts';
import type { SitePast } from '../drift/site-past.ts';
import { proofDaysMax } from '../facts/newest-proofs.ts';
import type { Proofs } from '../facts/proof.ts';
import type { Patience } from '../history/open-server.ts';
import type { RunLock } from '../history/run-lock.ts';
import type { ServerStore, StorePlace } from '../history/store-place.ts';
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
  { store, patience }: { readonly store: string | undefined; readonly patience: Patience },
  io: Io,
): Promise<HeldHistory> {
  const [{ openStore }, { lockRun }, { readPast }, { readSitePast }, { heldNow, keepNight }, kept] =
    await Promise.all([
      import('../history/open-store.ts'),
      import('../history/run-lock.ts'),
      import('../history/read-past.ts'),
      import('../history/read-site-past.ts'),
      import('../history/keep-night.ts'),
      import('../history/kept-proofs.ts'),
    ]);
  const place = await storePlace(store, io);
  return inStore(place, async () => {
    const database = await openStore(place, { patience });
    let lock: RunLock | undefined;
    const release = async () => {
      lock?.release();
      await database.close();
    };
    try {
      lock = await lockRun(place, database, site);
      const held = await heldNow(database, site);
      const past = await readPast(database, site);
      const proofs = await kept.readProofs(database, { site, since: countsSince(io.now()) });
      return {
        past,
        proofs,
        close: (evening) => closeNight({ ...evening, past }),
        drawn: () => inStore(place, () => readSitePast(database, site)),
        write: ({ night }, result) =>
          inStore(place, () => keepNight(database, held, { night, result })),
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

/**
 * What `--store` names: a server, a file from the working folder, else the default file. An address
 * that makes no sense, or that holds a password, ends the run.
 */
export async function storePlace(store: string | undefined, io: Io): Promise<StorePlace> {
  if (store !== undefined) {
    const { isAddress, isServer, unreadable } = await import('../history/server-place.ts');
    if (isServer(store)) return serverStore(store, io);
    // Taken for a file, a word misspelt would begin a second history, in a folder named like a password.
    if (isAddress(store)) throw new RunFault(exitStatuses.usage, [unreadable]);
  }
  const { defaultStorePath } = await import('../history/store-path.ts');
  if (store === undefined) return defaultStorePath(io.env, io.own.home);
  const { resolve } = await import('node:path');
  return resolve(io.workingFolder ?? '.', store);
}

/** Who was told that the password file is left out: a run opens several sessions. */
const toldOf = new WeakSet<Io>();

/** Name of the secret that is the password of a store on a server. */
const storeSecret = 'HOPGAUGE_STORE';

/** A store on a server; its password comes from the environment, `.pgpass`, or a secret by name. */
export async function serverStore(address: string, io: Io): Promise<ServerStore> {
  const [{ serverPlace }, { pgpassFor }, { StoreFault }] = await Promise.all([
    import('../history/server-place.ts'),
    import('../history/pgpass.ts'),
    import('../history/store-fault.ts'),
  ]);
  try {
    const place = serverPlace(address, io.env, io.own.userName);
    const file = io.env['PGPASSFILE'] ?? `${io.own.home}/.pgpass`;
    const leftOut = (line: string) => {
      if (!toldOf.has(io)) io.stderr.write(`${clean(line)}\n`);
      toldOf.add(io);
    };
    const askPassword = async () =>
      io.env['PGPASSWORD'] ??
      pgpassFor(file, place, leftOut) ??
      (await io.findSecret(storeSecret))?.reveal();
    return { place, askPassword };
  } catch (error) {
    if (error instanceof StoreFault) throw new RunFault(exitStatuses.usage, [clean(error.message)]);
    throw error;
  }
}

/** Runs work on a store; what files, disks and servers do to it ends the run with a line for the operator. */
export async function inStore<T>(store: StorePlace, work: () => Promise<T>): Promise<T> {
  const [{ storeFault }, { serverFault }, { storeWords }] = await Promise.all([
    import('../history/store-fault.ts'),
    import('../history/server-fault.ts'),
    import('../history/store-place.ts'),
  ]);
  const words = storeWords(store);
  try {
    return await work();
  } catch (error) {
    if (error instanceof RunFault) throw error;
    const fault = (typeof store === 'string' ? storeFault : serverFault)(words, error);
    const status = fault.kind === 'locked' ? exitStatuses.storeLocked : exitStatuses.cannotWrite;
    throw new RunFault(status, [clean(placed(words, fault.message))]);
  }
}

/** Where it happened comes first, once. */
function placed(where: string, message: string): string {
  return message.startsWith(where) ? message : `${where}: ${message}`;
}
