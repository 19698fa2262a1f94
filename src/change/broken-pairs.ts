import { byName } from '../facts/order.ts';
import type { Laying } from './laying.ts';
import { type OrderModel, slotBytesOf } from './order-model.ts';
import { type PairCost, pairCost } from './pair-shape.ts';
import type { ChangeStep } from './types.ts';

/** Pairs of ends that are named of one state and one trouble. */
const pairsNamedMax = 3;
/** Steps up to which the pairs are named in the state after each. */
const namedStepsMax = 64;

/** The first pairs of ends, as `SitePath.id`, of which something is wrong in a state. */
export interface BrokenPairs {
  /** No cord joins them. */
  readonly apart: readonly string[];
  /** Their large packets are lost silently. */
  readonly cut: readonly string[];
}

/** The same before the first step and after each. */
export interface BrokenPairStates {
  readonly start: BrokenPairs;
  readonly after: readonly BrokenPairs[];
}

/** Undefined where there are too many steps. */
export function brokenPairs(
  model: OrderModel,
  order: readonly ChangeStep[],
): BrokenPairStates | undefined {
  if (order.length > namedStepsMax) return undefined;
  const numbers = new Map(model.steps.map(({ id }, at) => [id, at]));
  const turns = order.flatMap(({ id }) => numbers.get(id) ?? []);
  return {
    start: brokenIn(model, []),
    after: turns.map((_, at) => brokenIn(model, turns.slice(0, at + 1))),
  };
}

function brokenIn(model: OrderModel, done: readonly number[]): BrokenPairs {
  const taken = new Set(done);
  const slotBytes = new Float64Array(model.slots.length);
  model.nodes.forEach(({ slots, steps }, node) => {
    const own = steps.filter((step) => taken.has(step));
    const bytes = slotBytesOf(model, node, own);
    slots.forEach((slot, each) => {
      slotBytes[slot] = bytes[each] ?? Infinity;
    });
  });
  const laying = model.layingOf((step) => taken.has(step));
  return {
    apart: namesOf(laying, slotBytes, ({ apart }) => apart),
    cut: namesOf(laying, slotBytes, ({ cut }) => cut),
  };
}

function namesOf(
  { shapes, still }: Laying,
  slotBytes: ArrayLike<number>,
  isWrong: (cost: PairCost) => boolean,
): string[] {
  const wrong = [...shapes, ...still].filter((shape) => isWrong(pairCost(shape, slotBytes)));
  return wrong
    .flatMap(({ ids }) => ids)
    .sort(byName)
    .slice(0, pairsNamedMax);
}
