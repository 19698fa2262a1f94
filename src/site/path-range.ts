import type { Gap } from '../facts/gap.ts';
import type { PathPlan } from './path-plan.ts';
import { gapOf, sharedCause } from './provenance.ts';
import type { HopClearance } from './types.ts';

/** A gap with the hop, or the node, that it is about. */
export interface Hole {
  readonly id: string;
  readonly gap: Gap;
}

/** What one hop passes. */
export interface SizedHop {
  /** Id of its port. */
  readonly id: string;
  readonly clearance: HopClearance;
}

/** What all hops of a path together pass. */
export interface PathRange {
  /** Hops and ends of which it is not known; empty: of none. */
  readonly holes: readonly Hole[];
  /** IP packet in bytes that passes every hop for certain; absent where there are holes. */
  readonly atLeastBytes?: number;
  /** IP packet in bytes beyond which nothing passes; absent where no hop tells. */
  readonly atMostBytes?: number;
}

/** The range of a path of which the hops are `hops`, in the order of the plan. */
export function pathRange(plan: PathPlan, hops: readonly SizedHop[]): PathRange {
  const holes = clearanceHoles(plan, hops);
  const least = hops.flatMap(({ clearance }) => clearance.atLeastBytes ?? []);
  const most = hops.flatMap(({ clearance }) => clearance.atMostBytes ?? []);
  return {
    holes,
    ...(holes.length > 0 || least.length === 0 ? {} : { atLeastBytes: Math.min(...least) }),
    ...(most.length === 0 ? {} : { atMostBytes: Math.min(...most) }),
  };
}

function clearanceHoles(plan: PathPlan, hops: readonly SizedHop[]): Hole[] {
  if (!plan.connected) {
    const words = `the declared links do not join ${plan.from.declared.name} and ${plan.to.declared.name}`;
    return [{ id: plan.id, gap: gapOf('unasked', words, `path ${plan.id} is not joined`) }];
  }
  const unknown = hops.flatMap(({ id, clearance: { gap } }) =>
    gap === undefined ? [] : [{ id, gap }],
  );
  const missing = plan.missing.map(({ node, gap }) => ({ id: node, gap }));
  return onceEach([...missing, ...unknown]);
}

/** One of each id, the last. */
export function onceEach(holes: readonly Hole[]): Hole[] {
  return [...new Map(holes.map((hole) => [hole.id, hole])).values()];
}

/** One gap for all of them, with a cause where they share it; undefined: there are none. */
export function together(holes: readonly Hole[]): Gap | undefined {
  const first = holes[0];
  if (first === undefined) return undefined;
  const causes = sharedCause(holes.map(({ gap }) => gap));
  const ids = holes.map(({ id }) => id).join(', ');
  return gapOf(first.gap.reason, `${ids}: ${first.gap.words}`, causes);
}
