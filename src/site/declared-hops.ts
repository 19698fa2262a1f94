import { byName } from '../facts/order.ts';
import type { RunPiece } from '../intent/types.ts';
import type { NodeView } from './node-view.ts';
import type { HopPlan } from './path-plan.ts';
import { type Footing, pathLayers } from './path-stack.ts';
import type { Crossing } from './path-ways.ts';
import { type PortRef, portRef, type SiteIndex } from './site-index.ts';
import { taggingOn, tagsOn } from './tagging.ts';

/** The ends of a path and where each stands on its own interfaces. */
export interface PathEnds {
  readonly from: NodeView;
  readonly to: NodeView;
  readonly footingFrom: Footing;
  readonly footingTo: Footing;
}

/** Order within one node: in by a port, up its layers, down the layers to a port, out by it. */
const rank = { in: 0, up: 1, between: 2, down: 3, out: 4 } as const;
type Rank = keyof typeof rank;

interface Placed {
  readonly plan: HopPlan;
  readonly rank: Rank;
  /** Layers above the port of a link; 0 for that port. */
  readonly height: number;
}

/** The hops of all crossings in drawing order, each with the layers that the path stands on. */
export function declaredHops(
  index: SiteIndex,
  ends: PathEnds,
  crossings: readonly Crossing[],
): HopPlan[] {
  const placed = new Map<string, Placed>();
  const place = (hop: Placed) => {
    const key = `${hop.plan.ref.id}\n${hop.plan.distance}\n${hop.rank}`;
    const before = placed.get(key);
    placed.set(key, before === undefined ? hop : merged(before, hop));
  };
  for (const crossing of crossings) {
    for (const side of [0, 1] as const) {
      const port = portHop(ends, crossing, side);
      place(port);
      for (const layer of layerHops(index, ends, crossing, port)) place(layer);
    }
  }
  return [...placed.values()].sort(inDrawingOrder).map((hop) => hop.plan);
}

/** One port under two segments has the more tags of the two. */
function merged(a: Placed, b: Placed): Placed {
  const tags = Math.max(a.plan.tags ?? 0, b.plan.tags ?? 0);
  const known = a.plan.tags !== undefined || b.plan.tags !== undefined;
  return {
    ...a,
    height: Math.max(a.height, b.height),
    plan: { ...a.plan, tags: known ? tags : undefined },
  };
}

function portHop(ends: PathEnds, crossing: Crossing, side: 0 | 1): Placed {
  const { link, segment, nearSide, nearDistance, farDistance } = crossing;
  const near = side === nearSide;
  const level = nearDistance === farDistance;
  const ref = link.ends[side];
  return {
    rank: level ? 'between' : near ? 'out' : 'in',
    height: 0,
    plan: {
      ref,
      position: positionOf(ends, ref),
      distance: near ? nearDistance : farDistance,
      layer: false,
      tags: tagsOn(link, segment),
      linkId: link.declared.id,
      runToNext: near ? runFrom(link.declared.run, side) : [],
      ...(level ? {} : { way: near ? 'out' : 'in' }),
    },
  };
}

function runFrom(run: readonly RunPiece[], side: 0 | 1): readonly RunPiece[] {
  return side === 0 ? run : run.toReversed();
}

function positionOf(ends: PathEnds, ref: PortRef): HopPlan['position'] {
  if (ref.node === ends.from) return 'from';
  if (ref.node === ends.to) return 'to';
  return ref.node.forwards ? 'switch' : 'router';
}

function layerHops(
  index: SiteIndex,
  ends: PathEnds,
  { link, segment }: Crossing,
  port: Placed,
): Placed[] {
  const { ref, position, distance, tags, way } = port.plan;
  if (ref.node.forwards || ref.survey === undefined) return [];
  const footing = position === 'from' ? ends.footingFrom : position === 'to' ? ends.footingTo : {};
  const layers = pathLayers(ref.node, ref.name, taggingOn(index, link, segment), footing);
  return [...layers].map(([name, height]) => ({
    rank: port.rank === 'in' ? 'up' : 'down',
    height,
    plan: {
      ref: portRef(index.ports, ref.node, name),
      position,
      distance,
      layer: true,
      tags,
      runToNext: [],
      ...(way === undefined ? {} : { way }),
    },
  }));
}

function inDrawingOrder(a: Placed, b: Placed): number {
  return (
    a.plan.distance - b.plan.distance ||
    byName(a.plan.ref.node.declared.name, b.plan.ref.node.declared.name) ||
    rank[a.rank] - rank[b.rank] ||
    (a.rank === 'up' ? a.height - b.height : b.height - a.height) ||
    byName(a.plan.ref.id, b.plan.ref.id)
  );
}
