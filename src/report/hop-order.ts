import type { Hop } from '../site/types.ts';

/** How the link that begins at a hop stands to those drawn before it. */
export type Fork =
  | { readonly kind: 'none' }
  /** Another member of the aggregate. */
  | { readonly kind: 'member'; readonly lag: string }
  /** Another way over the same distance. */
  | { readonly kind: 'instead' };

/** Hops in their order, with both ends of each link next to each other. */
export function pairedHops(hops: readonly Hop[]): Hop[] {
  const ordered: Hop[] = [];
  const drawn = new Set<Hop>();
  const byLink = new Map<string, Hop[]>();
  for (const hop of hops) {
    if (hop.linkId === undefined) continue;
    byLink.set(hop.linkId, [...(byLink.get(hop.linkId) ?? []), hop]);
  }
  for (const hop of hops) {
    if (drawn.has(hop)) continue;
    const ends = hop.linkId === undefined ? [] : (byLink.get(hop.linkId) ?? []);
    for (const each of [hop, ...ends.filter((end) => end !== hop)]) {
      if (drawn.has(each)) continue;
      drawn.add(each);
      ordered.push(each);
    }
  }
  return ordered;
}

/**
 * Whether the link that begins at hop `at` stands beside one already drawn; `lagOf` names the
 * aggregate of a link.
 */
export function forkAt(
  hops: readonly Hop[],
  at: number,
  lagOf: (linkId: string) => string | undefined,
): Fork {
  const hop = hops[at];
  const end = hops[at + 1];
  if (hop?.linkId === undefined || end?.linkId !== hop.linkId) return { kind: 'none' };
  const lag = lagOf(hop.linkId);
  for (let i = 0; i < at - 1; i += 1) {
    const start = hops[i];
    const stop = hops[i + 1];
    if (start?.linkId === undefined || stop?.linkId !== start.linkId) continue;
    if (start.distance !== hop.distance || stop.distance !== end.distance) continue;
    const same = lag !== undefined && lagOf(start.linkId) === lag;
    return same ? { kind: 'member', lag } : { kind: 'instead' };
  }
  return { kind: 'none' };
}
