import { stateCost } from './exact-order.ts';
import { type OrderModel, slotBytesOf } from './order-model.ts';
import { type PairCost, pairCost } from './pair-shape.ts';
import { addCosts } from './state-cost.ts';
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
  const pairs: PairCost[] = model.shapes.map((shape) => pairCost(shape, slotBytes));
  const stepsAtSlot = stepsBySlot(model);
  const stepsAt = stepsByShape(model, stepsAtSlot);
  let cost = stateCost(model, slotBytes);

  const changedSlots = (step: number): Effect['slots'] => {
    const node = model.nodeOf[step] ?? -1;
    const now = doneAt(node);
    const then = taken.has(step) ? now.filter((each) => each !== step) : [...now, step];
    const bytes = slotBytesOf(model, node, then);
    return (model.nodes[node]?.slots ?? []).flatMap((slot, each) =>
      bytes[each] === slotBytes[slot] ? [] : [[slot, bytes[each] ?? Infinity] as const],
    );
  };

  return {
    cost: () => cost,
    turned: (step) => {
      const slots = changedSlots(step);
      const shapes = [...new Set(slots.flatMap(([slot]) => model.shapesAt[slot] ?? []))];
      const before = slots.map(([slot]) => slotBytes[slot] ?? Infinity);
      for (const [slot, bytes] of slots) slotBytes[slot] = bytes;
      let [pathsCut, pathsReduced, clearanceLackBytes] = [0, 0, 0];
      for (const at of shapes) {
        const shape = model.shapes[at];
        const was = pairs[at];
        if (shape === undefined || was === undefined) continue;
        const now = pairCost(shape, slotBytes);
        pathsCut += (Number(now.cut) - Number(was.cut)) * shape.count;
        pathsReduced += (Number(now.reduced) - Number(was.reduced)) * shape.count;
        clearanceLackBytes += (now.lackBytes - was.lackBytes) * shape.count;
      }
      slots.forEach(([slot], each) => {
        slotBytes[slot] = before[each] ?? Infinity;
      });
      const bounces = model.bounces[step] ?? 0;
      return { added: { pathsCut, pathsReduced, clearanceLackBytes, bounces }, slots, shapes };
    },
    take: (step, { added, slots, shapes }) => {
      taken.add(step);
      cost = { ...addCosts(cost, added), bounces: 0 };
      for (const [slot, bytes] of slots) slotBytes[slot] = bytes;
      for (const at of shapes) {
        const shape = model.shapes[at];
        if (shape !== undefined) pairs[at] = pairCost(shape, slotBytes);
      }
      const own = (model.slotsOf[step] ?? []).flatMap((slot) => stepsAtSlot[slot] ?? []);
      return [...own, ...shapes.flatMap((at) => stepsAt[at] ?? [])];
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
  { shapes, shapesAt }: OrderModel,
  stepsAtSlot: readonly (readonly number[])[],
): number[][] {
  const found: Set<number>[] = shapes.map(() => new Set());
  shapesAt.forEach((at, slot) => {
    for (const shape of at) for (const step of stepsAtSlot[slot] ?? []) found[shape]?.add(step);
  });
  return found.map((each) => [...each]);
}
