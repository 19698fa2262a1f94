import type { LinkRef, SiteIndex } from './site-index.ts';
import { carried, undeclaredSegment } from './tagging.ts';

/** A way from one vertex to another. */
export interface Edge {
  readonly u: number;
  readonly v: number;
  /** Absent: a node that routes from one segment to another. */
  readonly link?: LinkRef;
  readonly segment: string;
}

/** What passes frames or packets on, for paths over one set of segments. Ends are added later. */
export interface Graph {
  readonly segments: readonly string[];
  /** Node of each vertex. */
  readonly nodeOf: readonly string[];
  /** Vertex by node and segment. */
  readonly vertexOf: ReadonlyMap<string, ReadonlyMap<string, number>>;
  readonly edges: readonly Edge[];
  /** Edges at each vertex, by index into `edges`. */
  readonly adjacent: readonly (readonly number[])[];
}

/** Segments that a path may use: those it names, else all. */
export function usableSegments(index: SiteIndex, over: readonly string[]): readonly string[] {
  const named = over.length > 0 ? over : [...index.segments.keys()];
  return named.length > 0 ? named : [undeclaredSegment];
}

/**
 * A vertex is a node in a segment. Only what forwards frames is a way through within a segment,
 * and only what routes a way from one to another. A router with several links in one segment
 * counts as a way through there as well: that judges a port too many, never one too few.
 */
export function buildGraph(index: SiteIndex, segments: readonly string[]): Graph {
  const nodeOf: string[] = [];
  const edges: Edge[] = [];
  const vertexOf = new Map<string, Map<string, number>>();
  const vertex = (node: string, segment: string): number => {
    const known = vertexOf.get(node) ?? new Map<string, number>();
    vertexOf.set(node, known);
    const at = known.get(segment) ?? nodeOf.push(node) - 1;
    known.set(segment, at);
    return at;
  };
  const through = (link: LinkRef, side: 0 | 1): string | undefined => {
    const { node } = link.ends[side];
    return node.forwards || node.declared.routes ? node.declared.name : undefined;
  };
  for (const link of index.links) {
    const [a, b] = [through(link, 0), through(link, 1)];
    for (const segment of carried(link, segments)) {
      const u = a === undefined ? undefined : vertex(a, segment);
      const v = b === undefined ? undefined : vertex(b, segment);
      if (u !== undefined && v !== undefined && a !== b) edges.push({ u, v, link, segment });
    }
  }
  joinSegments(index, vertexOf, nodeOf, edges);
  return { segments, nodeOf, vertexOf, edges, adjacent: adjacency(nodeOf.length, edges) };
}

function joinSegments(
  index: SiteIndex,
  vertexOf: ReadonlyMap<string, ReadonlyMap<string, number>>,
  nodeOf: string[],
  edges: Edge[],
): void {
  for (const [node, inSegments] of vertexOf) {
    if (index.nodes.get(node)?.declared.routes !== true || inSegments.size < 2) continue;
    const core = nodeOf.push(node) - 1;
    for (const [segment, u] of inSegments) edges.push({ u, v: core, segment });
  }
}

function adjacency(vertices: number, edges: readonly Edge[]): number[][] {
  const adjacent: number[][] = Array.from({ length: vertices }, () => []);
  edges.forEach(({ u, v }, at) => {
    adjacent[u]?.push(at);
    adjacent[v]?.push(at);
  });
  return adjacent;
}
