import type { Laying } from './laying.ts';
import type { OrderModel } from './order-model.ts';
import { type RunningState, runningState } from './running-state.ts';
import { addCosts, compareCosts, noCost, worseCost } from './state-cost.ts';
import type { StateCost, StepOrder } from './types.ts';

/**
 * Step by step the one whose state is best; of equal ones that on which more pairs of ends depend,
 * then that on the node before, so that one person works on one node. Only the effects of steps
 * that share a pair with the last one are reckoned again. Undefined where steps wait for each other.
 */
export function greedyOrder(model: OrderModel): StepOrder | undefined {
  const state = runningState(model, []);
  const effects = new Map<number, ReturnType<RunningState['turned']>>();
  const effectOf = (step: number) => {
    const effect = effects.get(step) ?? state.turned(step);
    effects.set(step, effect);
    return effect;
  };
  const asLaid = model.layingOf(() => false);
  const weight = model.steps.map((_, step) => pairsAt(model, asLaid, step));
  const left = new Set(model.steps.keys());
  const order: number[] = [];
  const costs: StateCost[] = [];
  while (left.size > 0) {
    const last = model.nodeOf[order.at(-1) ?? -1];
    let chosen: number | undefined;
    for (const step of left) {
      if ((model.after[step] ?? []).some((each) => left.has(each))) continue;
      const better = (other: number) =>
        compareCosts(effectOf(step).added, effectOf(other).added) ||
        Number(model.nodeOf[step] !== last) - Number(model.nodeOf[other] !== last) ||
        (weight[other] ?? 0) - (weight[step] ?? 0);
      if (chosen === undefined || better(chosen) < 0) chosen = step;
    }
    if (chosen === undefined) return undefined;
    const effect = effectOf(chosen);
    costs.push(addCosts(state.cost(), effect.added));
    for (const stale of state.take(chosen, effect)) effects.delete(stale);
    left.delete(chosen);
    order.push(chosen);
  }
  const steps = order.flatMap((step) => model.steps[step] ?? []);
  return { steps, costs, exact: false, bound: boundOf(model) };
}

/** Pairs of ends through what a step may move. */
function pairsAt({ slotsOf }: OrderModel, { shapes, shapesAt }: Laying, step: number): number {
  const at = new Set((slotsOf[step] ?? []).flatMap((slot) => shapesAt[slot] ?? []));
  return [...at].reduce((sum, each) => sum + (shapes[each]?.count ?? 0), 0);
}

/**
 * No order's worst state is better: some step is the first and some step the last, and the state
 * before the last one lacks just that step.
 */
function boundOf(model: OrderModel): StateCost {
  const count = model.steps.length;
  const steps = [...model.steps.keys()];
  const first = runningState(model, []);
  const whole = runningState(model, steps);
  const waitedFor = new Set(model.after.flat());
  const mayBeFirst = steps.filter((step) => (model.after[step] ?? []).length === 0);
  const mayBeLast = steps.filter((step) => !waitedFor.has(step));
  const costFirst = mayBeFirst.map((step) => addCosts(first.cost(), first.turned(step).added));
  const costLast = mayBeLast.map((step) => ({
    ...whole.cost(),
    bounces: model.bounces[step] ?? 0,
  }));
  // What was done in the step before the last is not known, so it counts no bounce.
  const costBefore =
    count < 2
      ? []
      : mayBeLast.map((step) => ({
          ...addCosts(whole.cost(), whole.turned(step).added),
          bounces: 0,
        }));
  const bounds = [costFirst, costLast, costBefore].flatMap((costs) => leastOf(costs) ?? []);
  return bounds.reduce(worseCost, noCost);
}

function leastOf(costs: readonly StateCost[]): StateCost | undefined {
  return costs.toSorted(compareCosts)[0];
}
