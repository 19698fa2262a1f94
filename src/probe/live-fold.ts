import type { LiveLook, PortChange } from './live-types.ts';

/** What is remembered of a link that comes and goes. */
export interface Folding {
  /** When the link changed lately, one entry for each change. */
  readonly recentMs: readonly number[];
  /** Since when changes are only counted; absent: each is told. */
  readonly since?: { readonly atMs: number; readonly times: number; readonly toldAtMs: number };
}

/** Nothing happened lately. */
export const noFolding: Folding = { recentMs: [] };

/** Changes of a link within the window beyond which they are only counted. */
export const changesToldMax = 6;
/** Time that changes are counted over, and after which a count is told again, in milliseconds. */
export const foldWindowMs = 10_000;
/** Time without a change after which the link has settled, in milliseconds. */
export const settledMs = 5000;
/** Changes of one look that are remembered; more of them fold all the same. */
const weightMax = 100;

/** The changes of a link that are told, and the count of the others. */
export function foldLinkEvents(
  folding: Folding,
  events: readonly PortChange[],
  { atMs, look }: { readonly atMs: number; readonly look: LiveLook },
): { readonly changes: readonly PortChange[]; readonly folding: Folding } {
  const more = events.reduce((sum, event) => sum + weightOf(event), 0);
  const kept = folding.recentMs.filter((each) => atMs - each < foldWindowMs);
  const recentMs = [...kept, ...Array<number>(Math.min(more, weightMax)).fill(atMs)];
  const { since } = folding;
  if (since === undefined) {
    if (recentMs.length <= changesToldMax) return { changes: events, folding: { recentMs } };
    const times = kept.length + more;
    const seconds = secondsOf(recentMs[0] ?? atMs, atMs);
    const changes = [{ kind: 'flapping' as const, atMs, look, times, seconds }];
    const begun = { atMs: recentMs[0] ?? atMs, times, toldAtMs: atMs };
    return { changes, folding: { recentMs, since: begun } };
  }
  const times = since.times + more;
  const seconds = secondsOf(since.atMs, atMs);
  const last = recentMs.at(-1);
  if (last === undefined || atMs - last >= settledMs) {
    const over = { kind: 'settled' as const, atMs, look, times, seconds };
    return { changes: [over], folding: noFolding };
  }
  if (atMs - since.toldAtMs < foldWindowMs) {
    return { changes: [], folding: { recentMs, since: { ...since, times } } };
  }
  const still = { kind: 'flapping' as const, atMs, look, times, seconds };
  return { changes: [still], folding: { recentMs, since: { ...since, times, toldAtMs: atMs } } };
}

function weightOf({ kind, times = 1 }: PortChange): number {
  if (kind === 'blink') return 2 * times;
  return kind === 'up' || kind === 'down' || kind === 'line' ? 1 : 0;
}

function secondsOf(fromMs: number, toMs: number): number {
  return Math.max(1, Math.round((toMs - fromMs) / 1000));
}
