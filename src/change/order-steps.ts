import { exactOrder } from './exact-order.ts';
import { greedyOrder } from './greedy-order.ts';
import type { OrderModel } from './order-model.ts';
import type { StepOrder } from './types.ts';

/** Steps up to which all states are looked at: 2 to this power. */
export const exactStepsMax = 14;

/** Pairs, alike ones taken together, times states that are reckoned at most to be exact. */
const exactWorkMax = 20_000_000;

/**
 * The order of steps whose worst state is best, and of those the one whose states are best
 * together. Exact where all states can be looked at; else step by step the best next one, with the
 * bound that no order beats. Undefined where no order is possible, since steps wait for each other.
 */
export function orderSteps(model: OrderModel): StepOrder | undefined {
  const count = model.steps.length;
  const work = model.layingOf(() => false).shapes.length * 2 ** Math.min(count, 30);
  return count <= exactStepsMax && work <= exactWorkMax ? exactOrder(model) : greedyOrder(model);
}
