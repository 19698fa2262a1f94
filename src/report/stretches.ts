import type { StateCost } from '../change/types.ts';

/** Steps in a row after each of which a count is above zero. */
export interface Stretch {
  /** Number of the step that begins it, from 1. */
  readonly from: number;
  /** Number of the step that ends it; absent: it lasts beyond the last step. */
  readonly until?: number;
  /** Largest count within it. */
  readonly worst: number;
}

/** The stretches of an order in which `count` of the state after a step is above zero. */
export function stretchesOf(
  costs: readonly StateCost[],
  count: (cost: StateCost) => number,
): Stretch[] {
  const found: Stretch[] = [];
  let open: { from: number; worst: number } | undefined;
  costs.forEach((cost, index) => {
    const now = count(cost);
    if (now > 0) {
      open = { from: open?.from ?? index + 1, worst: Math.max(open?.worst ?? 0, now) };
    } else if (open !== undefined) {
      found.push({ ...open, until: index + 1 });
      open = undefined;
    }
  });
  return open === undefined ? found : [...found, open];
}
