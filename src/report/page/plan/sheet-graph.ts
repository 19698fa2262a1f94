import type { LayoutGraph } from './site-graph.ts';
import { type MarkRoom, markWidth } from './site-link-shape.ts';
import { nodeWidth } from './site-node-shape.ts';
import type { Sheet } from './site-sheets.ts';
import { tiersOf } from './site-tiers.ts';

/** What a layout needs to know of a drawing: who is linked, and the room for names and marks. */
export function graphOf({ nodes, links }: Sheet, room: MarkRoom): LayoutGraph {
  const routed = links.map((link) => ({
    id: link.id,
    ends: link.ends,
    markWidth: markWidth(room(link)),
    ...(link.lag === undefined ? {} : { bundle: link.lag }),
  }));
  const untiered = nodes.map(({ id, kind }) => ({
    id,
    folds: kind !== 'switch',
    forwards: kind === 'switch' || kind === 'router',
  }));
  const tiers = tiersOf({ nodes: untiered, links: routed });
  return {
    nodes: nodes.map((node, at) => ({
      id: node.id,
      width: nodeWidth(node),
      tier: tiers.get(node.id) ?? 0,
      folds: untiered[at]?.folds ?? false,
    })),
    links: routed,
  };
}
