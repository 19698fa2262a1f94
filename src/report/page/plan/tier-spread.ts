/** Something in a tier that takes room from top to bottom. */
export interface Spread {
  top: number;
  readonly height: number;
  /** Where links meet it, from its top. */
  readonly middle: number;
  readonly neighbours: readonly Spread[];
}

const roundsMax = 8;

/**
 * Moves the members of each tier towards the mean of their neighbours, in their order and at least
 * `gap` apart, so that links run level where they can. The least top is 0. Changes `top`.
 */
export function spreadTiers(tiers: readonly (readonly Spread[])[], gap: number): void {
  for (const tier of tiers)
    putTops(
      tier,
      tier.map(() => 0),
      gap,
    );
  for (let round = 0; round < roundsMax; round += 1) {
    for (const tier of round % 2 === 0 ? tiers : tiers.toReversed()) {
      putTops(tier, tier.map(wantedTop), gap);
    }
  }
  const least = Math.min(...tiers.flat().map(({ top }) => top));
  for (const each of tiers.flat()) each.top -= least;
}

function wantedTop({ top, middle, neighbours }: Spread): number {
  if (neighbours.length === 0) return top;
  const sum = neighbours.reduce((total, each) => total + each.top + each.middle, 0);
  return sum / neighbours.length - middle;
}

/** The tops nearest to `wanted` by least squares: pools what would overlap into one block. */
function putTops(tier: readonly Spread[], wanted: readonly number[], gap: number): void {
  const pools: { sum: number; members: Spread[]; offsets: number[] }[] = [];
  let offset = 0;
  for (const [at, each] of tier.entries()) {
    pools.push({ sum: (wanted[at] ?? 0) - offset, members: [each], offsets: [offset] });
    offset += each.height + gap;
    for (let last = pools.at(-1), prior = pools.at(-2); last && prior; prior = pools.at(-2)) {
      if (prior.sum / prior.members.length <= last.sum / last.members.length) break;
      prior.sum += last.sum;
      prior.members.push(...last.members);
      prior.offsets.push(...last.offsets);
      pools.pop();
      last = prior;
    }
  }
  for (const { sum, members, offsets } of pools) {
    for (const [at, each] of members.entries()) {
      each.top = Math.round(sum / members.length) + (offsets[at] ?? 0);
    }
  }
}
