import { setMaxListeners } from 'node:events';
import { setTimeout as wait } from 'node:timers/promises';
import type { Trouble } from '../facts/trouble.ts';
import { exitStatuses } from '../report/exit-status.ts';
import { ageMs } from './ages.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';
import { interrupted } from './take-survey.ts';

/** How long a run may take, and how long it may wait before it begins, in milliseconds. */
export interface RunTime {
  readonly deadlineMs?: number;
  readonly spreadMs?: number;
}

/** Until when a run may read and work. */
export interface Deadline {
  /** Ends all reading, early enough to judge and to tell what was read. */
  readonly reading: AbortSignal;
  /** Ends everything. */
  readonly whole: AbortSignal;
  /** What a node has that was not read by then. */
  readonly trouble: Trouble;
}

const dayMs = 86_400_000;
/** What is kept of a deadline to judge and to tell: a fifth of it, at most this. */
const reserveMsMax = 60_000;

/** The times that the options give; ends the run where they make no sense. */
export function runTimeOf(deadline: string | undefined, spread: string | undefined): RunTime {
  const deadlineMs = deadline === undefined ? undefined : ageMs('--deadline', deadline);
  const spreadMs = spread === undefined ? undefined : ageMs('--spread', spread);
  if ((deadlineMs ?? 0) > dayMs) throw usage('--deadline: a day is the most; write 30m, say');
  if ((spreadMs ?? 0) > dayMs) throw usage('--spread: a day is the most; write 10m, say');
  if (deadlineMs !== undefined && spreadMs !== undefined && spreadMs >= deadlineMs) {
    throw usage('--spread is part of the time that --deadline gives; make it the shorter one');
  }
  return {
    ...(deadlineMs === undefined ? {} : { deadlineMs }),
    ...(spreadMs === undefined ? {} : { spreadMs }),
  };
}

function usage(line: string): RunFault {
  return new RunFault(exitStatuses.usage, [line]);
}

/** Starts the clock of a run, then waits a random part of its spread. */
export async function beginRun(
  { deadlineMs, spreadMs }: RunTime,
  words: string,
  io: Io,
): Promise<Deadline | undefined> {
  const deadline = deadlineMs === undefined ? undefined : deadlineOf(deadlineMs, words, io);
  if (spreadMs !== undefined) await spreadOut(spreadMs, io);
  return deadline;
}

function deadlineOf(deadlineMs: number, words: string, io: Io): Deadline {
  const reserveMs = Math.min(reserveMsMax, Math.floor(deadlineMs / 5));
  return {
    reading: endsAfter(deadlineMs - reserveMs, io),
    whole: endsAfter(deadlineMs, io),
    trouble: {
      kind: 'time-over',
      seen: `time over: not read by the deadline of ${words}`,
      remedy: 'look what makes the reading slow, or give more time with --deadline',
    },
  };
}

/** A signal that also ends with the run's own. */
function endsAfter(ms: number, io: Io): AbortSignal {
  const over = new AbortController();
  const signal = AbortSignal.any([io.signal, over.signal]);
  // Every node that is being read listens to it.
  setMaxListeners(0, signal);
  sleepOf(io)(ms, io.signal).then(
    () => over.abort(),
    () => {},
  );
  return signal;
}

/** So that a thousand timers set to 02:00 do not knock at one switch at 02:00. */
async function spreadOut(spreadMs: number, io: Io): Promise<void> {
  const random = io.random ?? Math.random;
  // The wait itself has to hold the process, which the clocks of a deadline must not.
  const hold = setInterval(() => {}, 60_000);
  try {
    await sleepOf(io)(Math.floor(random() * spreadMs), io.signal);
  } catch (error) {
    if (!io.signal.aborted) throw error;
  } finally {
    clearInterval(hold);
  }
  if (io.signal.aborted) throw interrupted();
}

function sleepOf({ sleep }: Io): NonNullable<Io['sleep']> {
  return sleep ?? ((ms, signal) => wait(ms, undefined, { signal, ref: false }));
}
