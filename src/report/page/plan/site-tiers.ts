import { foldsInto, type LayoutGraph, neighboursOf } from './site-graph.ts';

/** What tiers are found from: a graph whose nodes have none yet. */
export interface Untiered {
  readonly nodes: readonly {
    readonly id: string;
    readonly folds: boolean;
    /** Passes frames or packets on. */
    readonly forwards: boolean;
  }[];
  readonly links: LayoutGraph['links'];
}

/** Neighbours that two nodes must have in common to stand in one tier, linked or not. */
const sharedByLinked = 2;
const sharedByApart = 3;

/**
 * The tier of each node: links away from the middle of its island. The middle is the node that
 * forwards and is nearest to all others, by the sum of its distances; with it stand those that share
 * at least half of its neighbours, as the two of a redundant pair do and all of a mesh.
 */
export function tiersOf(graph: Untiered): Map<string, number> {
  const nodes = graph.nodes.map((node) => ({ ...node, width: 0, tier: 0 }));
  const neighbours = neighboursOf({ nodes, links: graph.links });
  const into = foldsInto({ nodes, links: graph.links });
  const forwarding = new Set(graph.nodes.flatMap(({ id, forwards }) => (forwards ? [id] : [])));
  const tiers = new Map<string, number>();
  for (const { id } of graph.nodes) {
    if (tiers.has(id)) continue;
    const island = [...distancesFrom([id], neighbours).keys()];
    const hubs = island.filter((each) => !into.has(each));
    const able = hubs.filter((each) => forwarding.has(each));
    const middle = middleOf(able.length > 0 ? able : hubs, neighbours);
    const first = middle === undefined ? [id] : [middle, ...twinsOf(middle, hubs, neighbours)];
    for (const [each, distance] of distancesFrom(first, neighbours)) tiers.set(each, distance);
  }
  return tiers;
}

type Neighbours = ReadonlyMap<string, ReadonlySet<string>>;

function distancesFrom(first: readonly string[], neighbours: Neighbours): Map<string, number> {
  const found = new Map(first.map((id) => [id, 0]));
  for (const [id, distance] of found) {
    for (const next of neighbours.get(id) ?? [])
      if (!found.has(next)) found.set(next, distance + 1);
  }
  return found;
}

function middleOf(candidates: readonly string[], neighbours: Neighbours): string | undefined {
  let best: { id: string; sum: number } | undefined;
  for (const id of candidates) {
    const sum = [...distancesFrom([id], neighbours).values()].reduce((a, b) => a + b, 0);
    if (best === undefined || sum < best.sum) best = { id, sum };
  }
  return best?.id;
}

function twinsOf(middle: string, hubs: readonly string[], neighbours: Neighbours): string[] {
  const isHub = new Set(hubs);
  const around = (id: string, other: string) =>
    [...(neighbours.get(id) ?? [])].filter((each) => isHub.has(each) && each !== other);
  return hubs.filter((id) => {
    if (id === middle) return false;
    const [own, others] = [around(middle, id), new Set(around(id, middle))];
    const shared = own.filter((each) => others.has(each)).length;
    const linked = neighbours.get(middle)?.has(id) ?? false;
    return shared >= (linked ? sharedByLinked : sharedByApart) && shared * 2 >= own.length;
  });
}
