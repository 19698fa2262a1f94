import { setTimeout as wait } from 'node:timers/promises';
import { type Trouble, type TroubleKind, troubleKinds } from '../facts/trouble.ts';
import type { LiveLooks, WatchNode } from './live-types.ts';

/** What happens with a node that is watched. */
export type NodeEvent =
  | { readonly is: 'looks'; readonly looks: LiveLooks }
  | {
      readonly is: 'lost';
      readonly atMs: number;
      readonly trouble: Trouble;
      /** Whether it is tried again. */
      readonly again: boolean;
    };

/** A connection to a node, ready to be watched, or why there is none. */
export type Connected =
  | { readonly ok: true; readonly watch: WatchNode }
  | { readonly ok: false; readonly trouble: Trouble };

/** What keeps one node watched. */
export interface Keeping {
  /** Logs in once. */
  readonly connect: (signal: AbortSignal) => Promise<Connected>;
  readonly onEvent: (event: NodeEvent) => void;
  readonly signal: AbortSignal;
  readonly now: () => Date;
  /** Waits before an attempt, in milliseconds; absent: `attemptWaitsMs`. */
  readonly waitsMs?: readonly number[];
}

/** Waits before the attempts after a loss, in milliseconds; the last one for all that follow. */
export const attemptWaitsMs: readonly number[] = [1000, 2000, 4000, 8000, 15_000];
/** Attempts of one run, at most: more than the longest run has time for at the last of the waits. */
export const attemptsMax = 6000;
/** A connection that lasted this long, in milliseconds, makes the waits short again. */
const stableMs = 10_000;

/** Troubles that say nothing of the way to a node or its power, though it gave no answer. */
const lasting: ReadonlySet<TroubleKind> = new Set(['overlong', 'privacy-silent']);
/** Troubles of a node that answers, but as one that is just starting does. */
const passing: ReadonlySet<TroubleKind> = new Set(['refused', 'server-busy', 'clock-lost']);

/**
 * Whether a node may come back by itself. Where it refused a credential, shows another key or gives
 * no shell, another attempt would only be one more refusal.
 */
export function mayReturn({ kind }: Trouble): boolean {
  if (lasting.has(kind)) return false;
  if (passing.has(kind)) return true;
  const reason = troubleKinds[kind];
  return reason === 'unreachable' || reason === 'truncated';
}

/** Watches a node until the signal ends it or it is lost for good, through losses between. */
export async function keepWatching(keeping: Keeping): Promise<void> {
  const { connect, onEvent, signal, now, waitsMs = attemptWaitsMs } = keeping;
  let failures = 0;
  let told: TroubleKind | undefined;
  const onLooks = (looks: LiveLooks) => {
    if (signal.aborted) return;
    told = undefined;
    onEvent({ is: 'looks', looks });
  };
  for (let attempt = 0; attempt < attemptsMax && !signal.aborted; attempt += 1) {
    const begunMs = performance.now();
    const end = await oneConnection(connect, onLooks, signal);
    if (signal.aborted || end.is === 'over') return;
    if (performance.now() - begunMs >= stableMs) failures = 0;
    if (end.is === 'lost') {
      const again = mayReturn(end.trouble);
      // One line for one loss, however often it is tried in vain.
      if (told === undefined || !again) {
        onEvent({ is: 'lost', atMs: now().getTime(), trouble: end.trouble, again });
      }
      told = end.trouble.kind;
      if (!again) return;
    }
    const waitMs = waitsMs[Math.min(failures, waitsMs.length - 1)] ?? 0;
    failures += 1;
    await wait(waitMs, undefined, { signal }).catch(() => undefined);
  }
}

async function oneConnection(
  connect: Keeping['connect'],
  onLooks: (looks: LiveLooks) => void,
  signal: AbortSignal,
) {
  const connected = await connect(signal);
  if (!connected.ok) return { is: 'lost', trouble: connected.trouble } as const;
  return connected.watch(onLooks, signal);
}
