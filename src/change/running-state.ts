import { stateCost } from './exact-order.ts';
import { type Laying, weighed } from './laying.ts';
import { type OrderModel, slotBytesOf } from './order-model.ts';
import { type PairCost, pairCost } from './pair-shape.ts';
import { addCosts, noCost, subtractCosts } from './state-cost.ts';
import type { StateCost } from './types.ts';

/** What a step would change in a state. */
interface Effect {
  /** What it adds to the cost of the state, or takes from it; its own bounces. */
  readonly added: StateCost;
  readonly slots: readonly (readonly [slot: number, bytes: number])[];
  readonly shapes: readonly number[];
}

/** A state to which steps are added one by one, each at the cost of the pairs that it touches. */
export interface RunningState {
  /** Without bounces: those belong to steps. */
  readonly cost: () => StateCost;
  /** What the state would be with one step more, or with it taken back where it is done. */
  readonly turned: (step: number) => Effect;
  /** Takes a step; gives the steps of which the effect may be another now. */
  readonly take: (step: number, effect: Effect) => readonly number[];
}

/** A state in which `done` steps are taken. */
export function runningState(model: OrderModel, done: readonly number[]): RunningState {
  const taken = new Set(done);
  const slotBytes = new Float64Array(model.slots.length);
  const doneAt = (node: number) => (model.nodes[node]?.steps ?? []).filter((s) => taken.has(s));
  model.nodes.forEach(({ slots }, at) => {
    const bytes = slotBytesOf(model, at, doneAt(at));
    slots.forEach((slot, each) => {
      slotBytes[slot] = bytes[each] ?? Infinity;
    });
  });
  const isCord = new Set(model.cords);
  const isTaken = (step: number) => taken.has(step);
  const stepsAtSlot = stepsBySlot(model);
  let laying = model.layingOf(isTaken);
  let pairs: PairCost[] = laying.shapes.map((shape) => pairCost(shape, slotBytes));
  let stepsAt = stepsByShape(laying, stepsAtSlot);
  let cost = stateCost(laying, slotBytes);

  const changedSlots = (step: number): Effect['slots'] => {
    const node = model.nodeOf[step] ?? -1;
    const now = doneAt(node);
    const then = taken.has(step) ? now.filter((each) => each !== step) : [...now, step];
    const bytes = slotBytesOf(model, node, then);
    return (model.nodes[node]?.slots ?? []).flatMap((slot, each) =>
      bytes[each] === slotBytes[slot] ? [] : [[slot, bytes[each] ?? Infinity] as const],
    );
  };

  /** What is reckoned while some slots pass something else. */
  const withSlots = <T>(slots: Effect['slots'], reckon: () => T): T => {
    const before = slots.map(([slot]) => slotBytes[slot] ?? Infinity);
    for (const [slot, bytes] of slots) slotBytes[slot] = bytes;
    const found = reckon();
    slots.forEach(([slot], each) => {
      slotBytes[slot] = before[each] ?? Infinity;
    });
    return found;
  };

  /** Another laying of the cords may move any pair. */
  const turnedCord = (step: number): Effect => {
    const isDone = (each: number) => taken.has(each) !== (each === step);
    const slots = changedSlots(step);
    const then = withSlots(slots, () => stateCost(model.layingOf(isDone), slotBytes));
    const bounces = model.bounces[step] ?? 0;
    return { added: { ...subtractCosts(then, cost), bounces }, slots, shapes: [] };
  };

  const turnedSlots = (step: number): Effect => {
    const slots = changedSlots(step);
    const shapes = [...new Set(slots.flatMap(([slot]) => laying.shapesAt[slot] ?? []))];
    const added = withSlots(slots, () =>
      shapes.reduce((sum, at) => {
        const shape = laying.shapes[at];
        const was = pairs[at];
        if (shape === undefined || was === undefined) return sum;
        const now = weighed(shape, pairCost(shape, slotBytes));
        return addCosts(sum, subtractCosts(now, weighed(shape, was)));
      }, noCost),
    );
    return { added: { ...added, bounces: model.bounces[step] ?? 0 }, slots, shapes };
  };

  return {
    cost: () => cost,
    turned: (step) => (isCord.has(step) ? turnedCord(step) : turnedSlots(step)),
    take: (step, { added, slots, shapes }) => {
      taken.add(step);
      cost = { ...addCosts(cost, added), bounces: 0 };
      for (const [slot, bytes] of slots) slotBytes[slot] = bytes;
      if (isCord.has(step)) {
        laying = model.layingOf(isTaken);
        pairs = laying.shapes.map((shape) => pairCost(shape, slotBytes));
        stepsAt = stepsByShape(laying, stepsAtSlot);
        return [...model.steps.keys()];
      }
      for (const at of shapes) {
        const shape = laying.shapes[at];
        if (shape !== undefined) pairs[at] = pairCost(shape, slotBytes);
      }
      const own = (model.slotsOf[step] ?? []).flatMap((slot) => stepsAtSlot[slot] ?? []);
      // What a cord does depends on every pair.
      return [...own, ...shapes.flatMap((at) => stepsAt[at] ?? []), ...model.cords];
    },
  };
}

/** Steps that may move each slot. */
function stepsBySlot({ slots, slotsOf }: OrderModel): number[][] {
  const found: number[][] = slots.map(() => []);
  slotsOf.forEach((own, step) => {
    for (const slot of own) found[slot]?.push(step);
  });
  return found;
}

/** Steps that may move some hop of each shape. */
function stepsByShape(
  { shapes, shapesAt }: Laying,
  stepsAtSlot: readonly (readonly number[])[],
): number[][] {
  const found: Set<number>[] = shapes.map(() => new Set());
  shapesAt.forEach((at, slot) => {
    for (const shape of at) for (const step of stepsAtSlot[slot] ?? []) found[shape]?.add(step);
  });
  return found.map((each) => [...each]);
}
