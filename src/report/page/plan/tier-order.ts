/** A node in its tier, or the place where a link passes through a tier that it does not end in. */
export interface TierItem {
  /** Place in its tier, from 0. */
  at: number;
  /** At the other end of each link to the tier before, one for each link. */
  readonly before: TierItem[];
  /** To the tier after. */
  readonly after: TierItem[];
  /** Within the tier. */
  readonly beside: TierItem[];
}

/** Rounds of sorting by the mean place of neighbours, each there and back. */
const sweepsMax = 24;
/** Rounds of exchanging neighbours. */
const exchangesMax = 6;

/**
 * Puts the items of each tier into an order in which few links cross: sorts tier after tier by the
 * mean place of their neighbours, keeps the best of all rounds, then exchanges neighbours where
 * that helps. Equal input gives an equal order. Changes `at` of the items.
 */
export function orderTiers<T extends TierItem>(tiers: readonly (readonly T[])[]): T[][] {
  let order = tiers.map((tier) => [...tier]);
  number(order);
  let best = { order, crossings: crossingsOf(order) };
  for (let sweep = 0; sweep < sweepsMax && best.crossings > 0; sweep += 1) {
    const forth = sweep % 2 === 0;
    order = sorted(order, forth);
    const crossings = crossingsOf(order);
    if (crossings < best.crossings) best = { order, crossings };
  }
  order = best.order.map((tier) => [...tier]);
  number(order);
  for (let round = 0; round < exchangesMax; round += 1) if (!exchange(order)) break;
  return order;
}

function number(tiers: readonly (readonly TierItem[])[]): void {
  for (const tier of tiers) for (const [at, item] of tier.entries()) item.at = at;
}

function sorted<T extends TierItem>(tiers: readonly (readonly T[])[], forth: boolean): T[][] {
  const order = tiers.map((tier) => [...tier]);
  const walk = forth ? order : order.toReversed();
  for (const tier of walk) {
    const wanted = new Map(
      tier.map((item) => [item, mean(forth ? item.before : item.after) ?? item.at]),
    );
    tier.sort((a, b) => (wanted.get(a) ?? 0) - (wanted.get(b) ?? 0) || a.at - b.at);
    for (const [at, item] of tier.entries()) item.at = at;
  }
  return order;
}

function mean(items: readonly TierItem[]): number | undefined {
  if (items.length === 0) return undefined;
  return items.reduce((sum, { at }) => sum + at, 0) / items.length;
}

/** How many pairs of links between neighbouring tiers cross, in the order that `at` gives. */
export function crossingsOf(tiers: readonly (readonly TierItem[])[]): number {
  return tiers.reduce((sum, tier) => sum + crossingsAfter(tier), 0);
}

/** Inversions, counted with a tree of partial sums. */
function crossingsAfter(tier: readonly TierItem[]): number {
  const ends = tier
    .toSorted((a, b) => a.at - b.at)
    .flatMap(({ after }) => after.map(({ at }) => at).sort((a, b) => a - b));
  const sums = new Array<number>(Math.max(0, ...ends) + 2).fill(0);
  let crossings = 0;
  for (const [passed, end] of ends.entries()) {
    let notBelow = 0;
    for (let at = end + 1; at > 0; at -= at & -at) notBelow += sums[at] ?? 0;
    crossings += passed - notBelow;
    for (let at = end + 1; at < sums.length; at += at & -at) sums[at] = (sums[at] ?? 0) + 1;
  }
  return crossings;
}

/** One round over all neighbours; whether any were exchanged. */
function exchange(tiers: readonly TierItem[][]): boolean {
  let better = false;
  for (const tier of tiers) {
    for (let at = 0; at + 1 < tier.length; at += 1) {
      const [upper, lower] = [tier[at], tier[at + 1]];
      if (upper === undefined || lower === undefined) continue;
      if (cost(upper, lower) <= swappedCost(upper, lower)) continue;
      [tier[at], tier[at + 1]] = [lower, upper];
      [upper.at, lower.at] = [at + 1, at];
      better = true;
    }
  }
  return better;
}

/** Weight of a crossing against one place of length within a tier. */
const crossingWeight = 4;

function cost(upper: TierItem, lower: TierItem): number {
  const crossed = inversions(upper.before, lower.before) + inversions(upper.after, lower.after);
  return crossed * crossingWeight + lengthBeside(upper) + lengthBeside(lower);
}

function swappedCost(upper: TierItem, lower: TierItem): number {
  const [a, b] = [upper.at, lower.at];
  [upper.at, lower.at] = [b, a];
  const swapped = cost(lower, upper);
  [upper.at, lower.at] = [a, b];
  return swapped;
}

function inversions(upper: readonly TierItem[], lower: readonly TierItem[]): number {
  return upper.reduce((sum, { at }) => sum + lower.filter((each) => each.at < at).length, 0);
}

function lengthBeside({ at, beside }: TierItem): number {
  return beside.reduce((sum, other) => sum + Math.abs(other.at - at), 0);
}
