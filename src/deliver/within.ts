import type { Delivered } from './delivered.ts';

/**
 * Runs one delivery for at most `msMax` milliseconds, and no longer than `signal` lets it. `begin`
 * settles once and gives what takes its sockets and processes away, which is called in every case.
 */
export function within(
  { msMax, signal }: { readonly msMax: number; readonly signal: AbortSignal },
  begin: (settle: (delivered: Delivered) => void) => () => void,
): Promise<Delivered> {
  return new Promise((resolve) => {
    let end: (() => void) | undefined;
    let settled: Delivered | undefined;
    const settle = (delivered: Delivered) => {
      if (settled !== undefined) return;
      settled = delivered;
      clearTimeout(timer);
      signal.removeEventListener('abort', onAbort);
      end?.();
      resolve(delivered);
    };
    const onAbort = () => settle({ ok: false, reason: 'the time of the run is over' });
    const timer = setTimeout(
      () => settle({ ok: false, reason: `not done within ${msMax / 1000} s` }),
      msMax,
    );
    signal.addEventListener('abort', onAbort, { once: true });
    if (signal.aborted) return onAbort();
    end = begin(settle);
    if (settled !== undefined) end();
  });
}
