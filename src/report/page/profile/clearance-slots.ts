import { measures } from './clearance-measures.ts';
import type { Lane } from './path-lanes.ts';
import type { Spot } from './path-spots.ts';

/** Where a column stands and how many hops stand side by side in it. */
export interface Slot {
  readonly spots: readonly Spot[];
  readonly left: number;
  readonly width: number;
  /** Hops that come in, that are within, and that go out, of the widest spot. */
  readonly entering: number;
  readonly within: number;
  readonly leaving: number;
}

/** The columns of a path: each spot stands behind all that lead to it. */
export function slotsOf(lanes: readonly Lane[], order: readonly Spot[]): Slot[] {
  const depth = new Map(order.map((spot) => [spot, 0]));
  const edges = lanes.flatMap(({ start, steps }) =>
    steps.map(({ joint, to }, at) => ({ joint, to, from: steps[at - 1]?.to ?? start })),
  );
  for (const spot of order)
    for (const { from, to } of edges)
      if (from === spot) depth.set(to, Math.max(depth.get(to) ?? 0, (depth.get(spot) ?? 0) + 1));
  const last = Math.max(0, ...depth.values());
  return Array.from({ length: last + 1 }, (_, at) => {
    const spots = order.filter((spot) => depth.get(spot) === at);
    const linked = edges.filter(({ joint }) => joint.link !== undefined);
    const entering = linked.some(({ to }) => spots.includes(to)) ? 1 : 0;
    const leaving = linked.some(({ from }) => spots.includes(from)) ? 1 : 0;
    const within = Math.max(
      entering + leaving === 0 ? 1 : 0,
      ...spots.map((spot) => spot.within.length),
    );
    const left = at === 0 ? measures.edge : 0;
    const width =
      left + (entering + within + leaving) * measures.hop + (at === last ? 4 : measures.way);
    return { spots, left, width, entering, within, leaving };
  });
}
