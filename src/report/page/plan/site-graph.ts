/** A node that a layout places. Lengths are in user units of the drawing. */
export interface LayoutNode {
  /** Unique in its graph. */
  readonly id: string;
  /** Width that its box needs. */
  readonly width: number;
  /** Tiers stand from left to right, the smallest first; only their order counts. */
  readonly tier: number;
  /** May stand in the comb of its neighbour where it has only one. */
  readonly folds: boolean;
}

/** A link that a layout routes. */
export interface LayoutLink {
  /** Unique in its graph. */
  readonly id: string;
  /** Identifiers of two nodes of the graph; of one node twice where a link comes back to it. */
  readonly ends: readonly [string, string];
  /** Room for what is written on it; 0: nothing is. */
  readonly markWidth: number;
  /** Links of one bundle between two nodes stay side by side. */
  readonly bundle?: string;
  /** No link at all, but what the body of the first end grows to reach those that it shares. */
  readonly limb?: boolean;
}

/** What a layout is made of; its order is that of declaration. */
export interface LayoutGraph {
  readonly nodes: readonly LayoutNode[];
  readonly links: readonly LayoutLink[];
}

/** A node that stands in a tier, with what folds into its comb. */
export interface Hub {
  readonly node: LayoutNode;
  readonly leaves: readonly Leaf[];
  /** Nodes between the combs of two hubs, in place of a node of its own. */
  readonly between?: readonly Leaf[];
}

/** A node that folds into the comb of its only neighbour or of both, with its links. */
export interface Leaf {
  readonly node: LayoutNode;
  readonly links: readonly LayoutLink[];
}

/** Nodes that links join, and no link leaves. */
export interface Island {
  readonly hubs: readonly Hub[];
  /** Those between hubs. */
  readonly links: readonly LayoutLink[];
}

/** Neighbours of each node, each once and never itself. */
export function neighboursOf({ nodes, links }: LayoutGraph): Map<string, Set<string>> {
  const found = new Map(nodes.map(({ id }) => [id, new Set<string>()]));
  for (const { ends } of links) {
    const [a, b] = ends;
    if (a === b) continue;
    found.get(a)?.add(b);
    found.get(b)?.add(a);
  }
  return found;
}

/** The node into whose comb each node that folds does fold. */
export function foldsInto(graph: LayoutGraph): Map<string, string> {
  const neighbours = neighboursOf(graph);
  const looped = new Set(graph.links.flatMap(({ ends: [a, b] }) => (a === b ? [a] : [])));
  const folding = new Map<string, string>();
  for (const { id, folds } of graph.nodes) {
    const [only, ...others] = neighbours.get(id) ?? [];
    if (only === undefined || others.length > 0 || !folds || looped.has(id)) continue;
    folding.set(id, only);
  }
  for (const { id } of graph.nodes) {
    const into = folding.get(id);
    // Of two nodes that have only each other, the one that is declared first stays.
    if (into !== undefined && folding.get(into) === id) folding.delete(id);
  }
  return folding;
}

/** The graph in islands, the one with most nodes first, else in the order of declaration. */
export function islandsOf(graph: LayoutGraph): Island[] {
  const into = foldsInto(graph);
  const neighbours = neighboursOf(graph);
  const linksAt = groupBy(graph.links, ({ ends: [a, b] }) => {
    const leaf = [a, b].find((id) => into.has(id));
    return leaf ?? a;
  });
  const leavesOf = groupBy(
    graph.nodes.filter(({ id }) => into.has(id)),
    ({ id }) => into.get(id) ?? id,
  );
  const byId = new Map(graph.nodes.map((node) => [node.id, node]));
  const seen = new Set<string>();
  const islands: Island[] = [];
  for (const { id } of graph.nodes) {
    if (into.has(id) || seen.has(id)) continue;
    const ids = reach(id, (at) =>
      [...(neighbours.get(at) ?? [])].filter((next) => !into.has(next)),
    );
    for (const each of ids) seen.add(each);
    islands.push({
      hubs: graph.nodes
        .filter((node) => ids.has(node.id))
        .map((node) => ({ node: byId.get(node.id) ?? node, leaves: leavesAt(node.id) })),
      links: graph.links.filter(
        ({ ends: [a, b] }) => ids.has(a) && ids.has(b) && !into.has(a) && !into.has(b),
      ),
    });
  }
  const size = ({ hubs }: Island) => hubs.reduce((sum, { leaves }) => sum + 1 + leaves.length, 0);
  return islands.sort((a, b) => size(b) - size(a));

  function leavesAt(id: string): Leaf[] {
    return (leavesOf.get(id) ?? []).map((node) => ({ node, links: linksAt.get(node.id) ?? [] }));
  }
}

/** All that can be reached from `first`, itself among it. */
function reach(first: string, next: (id: string) => readonly string[]): Set<string> {
  const found = new Set([first]);
  for (const id of found) for (const each of next(id)) found.add(each);
  return found;
}

/** Things by a key, in the order in which they come. */
export function groupBy<T, K>(things: readonly T[], keyOf: (thing: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [thing]);
    else group.push(thing);
  }
  return groups;
}
