import type { Laying } from './laying.ts';
import { type OrderModel, slotBytesOf } from './order-model.ts';
import { pairCost } from './pair-shape.ts';
import { addCosts, compareCosts, noCost, worseCost } from './state-cost.ts';
import type { StateCost, StepOrder } from './types.ts';

/** What is best of all ways to come to a state; absent: it cannot be come to. */
type Best = readonly (StateCost | undefined)[];

/**
 * The best of all orders. States are sets of steps done, as bits. First the least worst state of
 * any order; then, over transitions that are no worse than it alone, the least sum. Taken in one
 * pass, the better worst state of a beginning could hide the better sum of the whole.
 */
export function exactOrder(model: OrderModel): StepOrder | undefined {
  const states = 2 ** model.steps.length;
  const costs = stateCosts(model, states);
  const cost = (mask: number, step: number): StateCost => ({
    ...(costs[mask] ?? noCost),
    bounces: model.bounces[step] ?? 0,
  });
  const all = states - 1;
  const worst = best(model, (before, mask, step) => worseCost(before, cost(mask, step)))[all];
  if (worst === undefined) return undefined;
  const sums = best(model, (before, mask, step) => {
    const now = cost(mask, step);
    return compareCosts(now, worst) <= 0 ? addCosts(before, now) : undefined;
  });
  const order = walkBack(model, sums, (mask, step) => cost(mask, step), worst);
  let mask = 0;
  const told = order.map((step) => {
    mask |= 1 << step;
    return cost(mask, step);
  });
  return {
    steps: order.flatMap((step) => model.steps[step] ?? []),
    costs: told,
    exact: true,
    bound: worst,
  };
}

type Extend = (before: StateCost, mask: number, step: number) => StateCost | undefined;

function best(model: OrderModel, extend: Extend): Best {
  const found: (StateCost | undefined)[] = [noCost];
  for (let mask = 1; mask < 2 ** model.steps.length; mask += 1) {
    let least: StateCost | undefined;
    for (const step of lastSteps(model, mask)) {
      const before = found[mask ^ (1 << step)];
      const now = before && extend(before, mask, step);
      if (now !== undefined && (least === undefined || compareCosts(now, least) < 0)) least = now;
    }
    found[mask] = least;
  }
  return found;
}

/** Steps of a state that may have been its last: all that they wait for is in it as well. */
function lastSteps(model: OrderModel, mask: number): number[] {
  return model.steps.flatMap((_, step) => {
    const bit = 1 << step;
    const waits = (model.after[step] ?? []).reduce((bits, each) => bits | (1 << each), 0);
    return (mask & bit) !== 0 && (mask & waits) === waits ? [step] : [];
  });
}

function walkBack(
  model: OrderModel,
  sums: Best,
  cost: (mask: number, step: number) => StateCost,
  worst: StateCost,
): number[] {
  const order: number[] = [];
  for (let mask = sums.length - 1; mask > 0; ) {
    const now = sums[mask];
    // The last of equal ones, so that equal steps come in the order in which they were given.
    const step = lastSteps(model, mask).findLast((each) => {
      const before = sums[mask ^ (1 << each)];
      const own = cost(mask, each);
      if (before === undefined || now === undefined || compareCosts(own, worst) > 0) return false;
      return compareCosts(addCosts(before, own), now) === 0;
    });
    if (step === undefined) throw new Error('a state that was come to has a step before it');
    order.unshift(step);
    mask ^= 1 << step;
  }
  return order;
}

function stateCosts(model: OrderModel, states: number): StateCost[] {
  const slotBytes = new Float64Array(model.slots.length);
  const known = model.nodes.map(() => new Map<number, number[]>());
  return Array.from({ length: states }, (_, mask) => {
    const isDone = (step: number) => (mask & (1 << step)) !== 0;
    model.nodes.forEach((node, at) => {
      const done = node.steps.filter(isDone);
      const local = done.reduce((bits, step) => bits | (1 << step), 0);
      const bytes = known[at]?.get(local) ?? slotBytesOf(model, at, done);
      known[at]?.set(local, bytes);
      node.slots.forEach((slot, each) => {
        slotBytes[slot] = bytes[each] ?? Infinity;
      });
    });
    return stateCost(model.layingOf(isDone), slotBytes);
  });
}

/** What is wrong in a state of which every slot's packet is given; no bounces in it. */
export function stateCost({ shapes, constant }: Laying, slotBytes: ArrayLike<number>): StateCost {
  let { pathsApart, pathsCut, pathsReduced, clearanceLackBytes } = constant;
  for (const shape of shapes) {
    const { apart, cut, reduced, lackBytes } = pairCost(shape, slotBytes);
    if (apart) pathsApart += shape.count;
    if (cut) pathsCut += shape.count;
    if (reduced) pathsReduced += shape.count;
    clearanceLackBytes += lackBytes * shape.count;
  }
  return { pathsApart, pathsCut, pathsReduced, clearanceLackBytes, bounces: 0 };
}
