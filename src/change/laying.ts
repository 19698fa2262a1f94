import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { planPaths } from '../site/plan-path.ts';
import { companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite } from '../site/site-index.ts';
import { applySteps, applyToIntent } from './apply-steps.ts';
import { type PairCost, type PairShape, pairCost } from './pair-shape.ts';
import { withSegmentPaths } from './segment-paths.ts';
import { type PlannedPaths, type Shaping, shapesOf } from './shape-paths.ts';
import { addCosts, noCost } from './state-cost.ts';
import { stepsThatJoin } from './steps-that-join.ts';
import type { ChangeStep, StateCost } from './types.ts';

/** The pairs of ends under one laying of the cords. */
export interface Laying {
  /** Pairs that some step moves, alike ones together. */
  readonly shapes: readonly PairShape[];
  /** By slot, the indexes of the shapes that it is in. */
  readonly shapesAt: readonly (readonly number[])[];
  /** All other pairs: no step moves what they pass. */
  readonly still: readonly PairShape[];
  /** What these add to every state. */
  readonly constant: StateCost;
}

/** Moved cords of which all orders are tried; more are moved in the order of their ports. */
const cordsFreeMax = 5;
/** Declared paths up to which that is so: each laying of the cords plans all of them. */
const pathsFreeMax = 200;

const nothingLaid: Laying = { shapes: [], shapesAt: [], still: [], constant: noCost };

/** Indexes of the steps that must be done before each. */
type Waits = readonly (readonly number[])[];

/** The pairs of ends in every laying of the cords that can come about. */
export interface Layings {
  /** Indexes of the steps that join or part links: those of cords, and those that take one down. */
  readonly cords: readonly number[];
  /** What each step waits for; where there are many cords each waits for the one before it. */
  readonly after: Waits;
  /** The pairs once those of the cords are moved that are done. */
  readonly of: (done: (step: number) => boolean) => Laying;
}

/** Plans the paths anew for every laying; `slots` are counted once all of them are known. */
export function planLayings(
  laid: Laid,
  after: Waits,
  { slots, ...shaping }: Shaping & { readonly slots: readonly unknown[] },
): Layings {
  const { steps, intent } = laid;
  const joining = stepsThatJoin(laid);
  const cords = steps.flatMap((step, each) => (joining.has(step.id) ? [each] : []));
  const free = cords.length <= cordsFreeMax && intent.paths.length <= pathsFreeMax;
  const turns = free ? cords : inTurn(cords, after);
  const shaped = layings(turns, free).map((done): readonly [string, PairShape[]] => {
    const moved = done.flatMap((each) => steps[each] ?? []);
    return [done.join(), shapesOf(pathsLaid(laid, moved), shaping)];
  });
  const known = new Map(shaped.map(([key, shapes]) => [key, layingFrom(shapes, slots.length)]));
  return {
    cords,
    after: free ? after : chained(after, turns),
    of: (done) => known.get(turns.filter(done).join()) ?? nothingLaid,
  };
}

/** Every set of moved cords that can come about, each in the order of `turns`. */
function layings(turns: readonly number[], free: boolean): number[][] {
  if (!free) return Array.from({ length: turns.length + 1 }, (_, done) => turns.slice(0, done));
  return Array.from({ length: 2 ** turns.length }, (_, mask) =>
    turns.filter((_step, bit) => (mask & (1 << bit)) !== 0),
  );
}

/** Cords one after the other, each after those that it waits for. */
function inTurn(cords: readonly number[], after: Waits): number[] {
  const left = new Set(cords);
  const turns: number[] = [];
  while (left.size > 0) {
    const next = [...left].find((cord) => !(after[cord] ?? []).some((each) => left.has(each)));
    // A circle has no order at all, which is found out later.
    if (next === undefined) return [...turns, ...left];
    turns.push(next);
    left.delete(next);
  }
  return turns;
}

function chained(after: Waits, turns: readonly number[]): number[][] {
  return after.map((own, step) => {
    const before = turns[turns.indexOf(step) - 1];
    return before === undefined || own.includes(before) ? [...own] : [...own, before];
  });
}

interface Laid {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly segments: readonly string[];
  readonly steps: readonly ChangeStep[];
}

/** The pairs of all paths once the cords of `moved` are in their new places. */
function pathsLaid(
  { intent, survey, segments, steps }: Laid,
  moved: readonly ChangeStep[],
): PlannedPaths {
  const cords = steps.filter(({ cord }) => cord !== undefined);
  // Machines are told by the links that there are in the end, so that all states have the same pairs.
  const { paths } = withSegmentPaths(applyToIntent(intent, cords), segments);
  const now = { ...applyToIntent(intent, moved), paths };
  const index = indexSite(now, applySteps(intent, survey, moved), { strict: false });
  findMembers(index);
  return { index, plans: planPaths(index, companyOf(index).hearing) };
}

function layingFrom(shaped: readonly PairShape[], slots: number): Laying {
  const isMoved = (shape: PairShape) => slotsIn(shape).length > 0;
  const shapes = shaped.filter(isMoved);
  const still = shaped.filter((shape) => !isMoved(shape));
  return {
    shapes,
    still,
    shapesAt: shapesBySlot(shapes, slots),
    constant: constantOf(still),
  };
}

function slotsIn(shape: PairShape): readonly number[] {
  const { from, to, belowFrom, belowTo, middle, entry, router } = shape;
  const groups = [from, to, belowFrom, belowTo, middle, entry, router];
  return [...new Set(groups.flatMap(({ slots }) => slots))];
}

function shapesBySlot(shapes: readonly PairShape[], slots: number): number[][] {
  const found: number[][] = Array.from({ length: slots }, () => []);
  shapes.forEach((shape, at) => {
    for (const slot of slotsIn(shape)) found[slot]?.push(at);
  });
  return found;
}

function constantOf(shapes: readonly PairShape[]): StateCost {
  return shapes.reduce(
    (cost, shape) => addCosts(cost, weighed(shape, pairCost(shape, []))),
    noCost,
  );
}

/** What the pairs of one shape add to a state. */
export function weighed({ count }: PairShape, cost: PairCost): StateCost {
  return {
    pathsApart: cost.apart ? count : 0,
    pathsCut: cost.cut ? count : 0,
    pathsReduced: cost.reduced ? count : 0,
    clearanceLackBytes: cost.lackBytes * count,
    bounces: 0,
  };
}
