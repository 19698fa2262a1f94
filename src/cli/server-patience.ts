import { setTimeout as wait } from 'node:timers/promises';
import type { Patience } from '../history/open-server.ts';
import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import { interrupted } from './take-survey.ts';

/** How long an audit waits for a server that is away when it begins, in milliseconds. */
const auditMs = 30_000;
/** How often one tries who waits, in milliseconds. */
const tryEveryMs = 1000;

/** How long to wait for a server. */
export interface Bounds {
  readonly forMs: number;
  /** Ends the waiting. */
  readonly stop: AbortSignal;
  /** Told behind what is wrong. */
  readonly words: string;
}

/** The patience of an audit, all its sites together: half a minute, for a server that is restarting. */
export function auditPatience(io: Io, stop: AbortSignal): Patience {
  return patienceOf({ forMs: auditMs, stop, words: 'waiting for it, 30s at most' }, io);
}

/** The patience of a collector: it has nothing else to do, and a service that ends is given up. */
export function collectorPatience(io: Io): Patience {
  return patienceOf({ forMs: Infinity, stop: io.signal, words: 'waiting for it' }, io);
}

/** Patience from the first time that it is asked for; that is told, once. An interrupt ends the run. */
export function patienceOf({ forMs, stop, words }: Bounds, io: Io): Patience {
  let end: number | undefined;
  return async (seen) => {
    if (end === undefined) io.stderr.write(`${clean(`${seen}; ${words}`)}\n`);
    end ??= performance.now() + forMs;
    if (stop.aborted || performance.now() >= end) return false;
    await wait(tryEveryMs, undefined, { signal: stop }).catch(() => undefined);
    if (io.signal.aborted) throw interrupted();
    return true;
  };
}
