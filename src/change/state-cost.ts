import type { StateCost } from './types.ts';

/** The cost of a state in which nothing is wrong. */
export const noCost: StateCost = {
  pathsApart: 0,
  pathsCut: 0,
  pathsReduced: 0,
  clearanceLackBytes: 0,
  bounces: 0,
};

/** Negative where `a` is the better one: compared from the first number on. */
export function compareCosts(a: StateCost, b: StateCost): number {
  return (
    a.pathsApart - b.pathsApart ||
    a.pathsCut - b.pathsCut ||
    a.pathsReduced - b.pathsReduced ||
    a.clearanceLackBytes - b.clearanceLackBytes ||
    a.bounces - b.bounces
  );
}

/** Pairs of ends that are not joined, or lose large packets silently. */
export function pathsBroken({ pathsApart, pathsCut }: StateCost): number {
  return pathsApart + pathsCut;
}

/** More pairs of ends are apart than in `start`, or more are apart or cut together. */
export function breaksMore(cost: StateCost, start: StateCost): boolean {
  return cost.pathsApart > start.pathsApart || pathsBroken(cost) > pathsBroken(start);
}

/** The worse of two. */
export function worseCost(a: StateCost, b: StateCost): StateCost {
  return compareCosts(a, b) >= 0 ? a : b;
}

/** Number by number. */
export function addCosts(a: StateCost, b: StateCost): StateCost {
  return {
    pathsApart: a.pathsApart + b.pathsApart,
    pathsCut: a.pathsCut + b.pathsCut,
    pathsReduced: a.pathsReduced + b.pathsReduced,
    clearanceLackBytes: a.clearanceLackBytes + b.clearanceLackBytes,
    bounces: a.bounces + b.bounces,
  };
}

/** Number by number; what is less in `a` is below zero. */
export function subtractCosts(a: StateCost, b: StateCost): StateCost {
  return {
    pathsApart: a.pathsApart - b.pathsApart,
    pathsCut: a.pathsCut - b.pathsCut,
    pathsReduced: a.pathsReduced - b.pathsReduced,
    clearanceLackBytes: a.clearanceLackBytes - b.clearanceLackBytes,
    bounces: a.bounces - b.bounces,
  };
}

/** The worst of `costs` and their sum; what orders are compared by, in this order. */
export function weighCosts(costs: readonly StateCost[]): {
  readonly worst: StateCost;
  readonly sum: StateCost;
} {
  return { worst: costs.reduce(worseCost, noCost), sum: costs.reduce(addCosts, noCost) };
}
