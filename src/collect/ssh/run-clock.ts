import { setMaxListeners } from 'node:events';
import type { ReadLimits } from '../types.ts';

/** Which limit, or who, ended a run early. */
export type Overrun = 'connect' | 'whole' | 'stopped';

/** The time limits of one run over one connection. */
export interface RunClock {
  /** Aborts when a limit is reached or the run is stopped from outside. */
  readonly signal: AbortSignal;
  readonly overrun: () => Overrun | undefined;
  /** The host has shown its key: from here only the whole time counts. */
  readonly connected: () => void;
  /** Waits for work whose time is not the node's: a person who types. */
  readonly hold: <T>(work: Promise<T>) => Promise<T>;
  /** Clears all timers. To be called at the end, whatever happened. */
  readonly stop: () => void;
}

/** Starts the clock of one run. */
export function startClock(limits: ReadLimits, outer: AbortSignal): RunClock {
  const controller = new AbortController();
  let overrun: Overrun | undefined;
  const end = (why: Overrun) => {
    overrun ??= why;
    controller.abort();
  };
  const onStop = () => end('stopped');
  const timers = [
    timer(limits.wholeMs, () => end('whole')),
    timer(limits.connectMs, () => end('connect')),
  ] as const;
  // One signal stops many runs at once: many listeners on it are no leak.
  setMaxListeners(0, outer, controller.signal);
  if (outer.aborted) onStop();
  outer.addEventListener('abort', onStop);
  return {
    signal: controller.signal,
    overrun: () => overrun,
    connected: () => timers[1].stop(),
    hold: async (work) => {
      for (const each of timers) each.pause();
      try {
        return await work;
      } finally {
        for (const each of timers) each.resume();
      }
    },
    stop: () => {
      for (const each of timers) each.stop();
      outer.removeEventListener('abort', onStop);
    },
  };
}

function timer(ms: number, done: () => void) {
  let leftMs = ms;
  let startedAt = performance.now();
  let running: NodeJS.Timeout | undefined = setTimeout(done, leftMs);
  let stopped = false;
  const pause = () => {
    if (running === undefined) return;
    clearTimeout(running);
    running = undefined;
    leftMs = Math.max(0, leftMs - (performance.now() - startedAt));
  };
  return {
    pause,
    resume: () => {
      if (stopped || running !== undefined) return;
      startedAt = performance.now();
      running = setTimeout(done, leftMs);
    },
    stop: () => {
      pause();
      stopped = true;
    },
  };
}
