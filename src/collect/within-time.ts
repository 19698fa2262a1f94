/** A signal that ends by itself, and what takes its timer away. */
export interface Limited {
  readonly signal: AbortSignal;
  /** To be called once nobody waits any more, whatever happened. */
  readonly clear: () => void;
}

/**
 * Ends after `ms` milliseconds, or when `outer` does. By a timer of its own: a signal that
 * `AbortSignal.any` makes of `AbortSignal.timeout` may be collected before it fires (seen on Node
 * 20.20), and whoever waits for it then waits for ever.
 */
export function withinTime(ms: number, outer: AbortSignal): Limited {
  const end = new AbortController();
  const stop = () => end.abort();
  const timer = setTimeout(stop, ms);
  if (outer.aborted) stop();
  outer.addEventListener('abort', stop, { once: true });
  return {
    signal: end.signal,
    clear: () => {
      clearTimeout(timer);
      outer.removeEventListener('abort', stop);
    },
  };
}
