import { setTimeout as wait } from 'node:timers/promises';

/** Waits, or less where the signal comes first. */
export async function pause(ms: number, signal: AbortSignal): Promise<void> {
  await wait(ms, undefined, { signal }).catch(() => undefined);
}
