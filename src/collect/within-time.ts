/** A signal that ends by itself, and what takes its timer away. */
export interface Limited {
  readonly signal: AbortSignal;
  /** Ends it now. */
  readonly stop: () => void;
  /** To be called once nobody waits any more, whatever happened. */
  readonly clear: () => void;
}

/**
 * Ends after `ms` milliseconds, or when one of `outer` does. By a timer of its own: a signal that
 * `AbortSignal.any` makes of `AbortSignal.timeout` may be collected before it fires (seen on Node
 * 20.20), and whoever waits for it then waits for ever.
 */
export function withinTime(ms: number, ...outer: readonly AbortSignal[]): Limited {
  const end = new AbortController();
  const stop = () => end.abort();
  const timer = setTimeout(stop, ms);
  if (outer.some(({ aborted }) => aborted)) stop();
  for (const each of outer) each.addEventListener('abort', stop, { once: true });
  return {
    signal: end.signal,
    stop,
    clear: () => {
      clearTimeout(timer);
      for (const each of outer) each.removeEventListener('abort', stop);
    },
  };
}
