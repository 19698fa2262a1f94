import type { Edge, Graph } from './path-graph.ts';
import type { LinkRef, SiteIndex } from './site-index.ts';
import { carried } from './tagging.ts';
import { edgesOnWays } from './ways.ts';

/** A link that some loop-free way crosses, from one node to the next. */
export interface Crossing {
  readonly link: LinkRef;
  readonly segment: string;
  /** Side of the link that is nearer to `from`; of two equally near, the first declared. */
  readonly nearSide: 0 | 1;
  /** Links between `from` and the node on the near and on the far side. */
  readonly nearDistance: number;
  readonly farDistance: number;
}

/** Every crossing of every loop-free way from node `from` to node `to`. */
export function crossings(index: SiteIndex, graph: Graph, from: string, to: string): Crossing[] {
  const pair = withEnds(index, graph, from, to);
  const used = edgesOnWays(pair, pair.start, pair.end).map((at) => pair.edge(at));
  const distance = distances(used, pair.start, pair.end);
  return used.flatMap((edge) => crossing(edge, distance, pair.nodeAt));
}

function crossing(
  edge: Edge,
  distance: ReadonlyMap<number, number>,
  nodeAt: (vertex: number) => string,
): Crossing[] {
  const { link, segment } = edge;
  if (link === undefined) return [];
  const [u, v] = [distance.get(edge.u) ?? 0, distance.get(edge.v) ?? 0];
  const nearNode = nodeAt(u <= v ? edge.u : edge.v);
  const nearSide = link.ends[0].node.declared.name === nearNode ? 0 : 1;
  return [{ link, segment, nearSide, nearDistance: Math.min(u, v), farDistance: Math.max(u, v) }];
}

/** The shared graph with both ends of one path added, each as one vertex that nothing crosses. */
function withEnds(index: SiteIndex, graph: Graph, from: string, to: string) {
  const start = graph.nodeOf.length;
  const end = start + 1;
  const base = graph.edges.length;
  const added: Edge[] = [];
  const addedAt = new Map<number, number[]>();
  const attach = (edge: Edge) => {
    for (const vertex of [edge.u, edge.v]) append(addedAt, vertex, base + added.length);
    added.push(edge);
  };
  for (const [self, node, other] of [
    [start, from, to],
    [end, to, from],
  ] as const) {
    for (const link of index.linksOf.get(node) ?? []) {
      const far = link.ends[link.ends[0].node.declared.name === node ? 1 : 0].node.declared.name;
      for (const segment of carried(link, graph.segments)) {
        if (far === other && self === start) attach({ u: start, v: end, link, segment });
        const v = graph.vertexOf.get(far)?.get(segment);
        if (far !== other && far !== node && v !== undefined) attach({ u: self, v, link, segment });
      }
    }
  }
  const edge = (at: number) => (graph.edges[at] ?? added[at - base]) as Edge;
  const inGraph = graph.vertexOf.has(from) || graph.vertexOf.has(to);
  const isEnd = (vertex: number) => graph.nodeOf[vertex] === from || graph.nodeOf[vertex] === to;
  return {
    start,
    end,
    edge,
    vertices: end + 1,
    nodeAt: (vertex: number) =>
      vertex === start ? from : vertex === end ? to : (graph.nodeOf[vertex] ?? ''),
    other: (at: number, vertex: number) => (edge(at).u === vertex ? edge(at).v : edge(at).u),
    // An end that forwards or routes has vertices of its own in the shared graph; they are
    // cut off, or a way could pass through an end.
    at: (vertex: number): readonly number[] => {
      const shared = graph.adjacent[vertex] ?? [];
      const kept = inGraph
        ? shared.filter((at) => !isEnd(edge(at).u) && !isEnd(edge(at).v))
        : shared;
      const more = addedAt.get(vertex);
      return more === undefined ? kept : kept.concat(more);
    },
  };
}

/**
 * Links from `start` to each vertex over `edges`; crossing a router costs none. The far end
 * stands behind everything that leads to it, so that it is drawn last.
 */
function distances(edges: readonly Edge[], start: number, end: number): Map<number, number> {
  const around = new Map<number, Edge[]>();
  for (const edge of edges) for (const vertex of [edge.u, edge.v]) append(around, vertex, edge);
  const distance = new Map([[start, 0]]);
  let level = [start];
  for (let links = 0; level.length > 0; links += 1) {
    const beyond: number[] = [];
    for (const here of level) {
      for (const edge of around.get(here) ?? []) {
        const there = edge.u === here ? edge.v : edge.u;
        if (there === end || distance.has(there)) continue;
        distance.set(there, edge.link === undefined ? links : links + 1);
        (edge.link === undefined ? level : beyond).push(there);
      }
    }
    level = beyond;
  }
  const before = (around.get(end) ?? []).map((edge) =>
    distance.get(edge.u === end ? edge.v : edge.u),
  );
  return distance.set(end, 1 + Math.max(0, ...before.map((links) => links ?? 0)));
}

function append<V>(lists: Map<number, V[]>, key: number, value: V): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [value]);
  else list.push(value);
}
