/** An undirected graph of numbered vertices and edges; edges between one pair may be several. */
export interface PlainGraph {
  readonly vertices: number;
  /** Edges at a vertex. */
  readonly at: (vertex: number) => readonly number[];
  /** The vertex at the other end of an edge. */
  readonly other: (edge: number, vertex: number) => number;
}

/**
 * All edges that some loop-free way from `start` to `end` uses, in no order that means anything.
 * These are the edges of the biconnected component that an added edge from end to end would be
 * in (Tarjan 1972, low points; walked with a stack of its own, so that no depth is too deep).
 * Linear in the edges that can be reached.
 */
export function edgesOnWays(graph: PlainGraph, start: number, end: number): number[] {
  const order = new Int32Array(graph.vertices).fill(-1);
  const low = new Int32Array(graph.vertices);
  const next = new Int32Array(graph.vertices);
  const cameBy = new Int32Array(graph.vertices).fill(-1);
  // The added edge is walked first. What is still on `pending` when its subtree is done was not
  // cut off by any vertex, so it shares a component with that edge. `start` is never left again.
  order[start] = 0;
  order[end] = 1;
  low[end] = 0;
  let count = 2;
  const pending: number[] = [];
  const trail: number[] = [end];
  const edgesAt: (readonly number[])[] = [graph.at(end)];
  while (trail.length > 0) {
    const here = trail[trail.length - 1] as number;
    const edge = edgesAt[edgesAt.length - 1]?.[next[here] as number];
    if (edge === undefined) {
      trail.pop();
      edgesAt.pop();
      finish(here);
      continue;
    }
    next[here] = (next[here] as number) + 1;
    if (edge === cameBy[here]) continue;
    const there = graph.other(edge, here);
    const seen = order[there] as number;
    if (seen === -1) {
      order[there] = count;
      low[there] = count;
      count += 1;
      cameBy[there] = edge;
      pending.push(edge);
      trail.push(there);
      edgesAt.push(graph.at(there));
    } else if (seen < (order[here] as number)) {
      pending.push(edge);
      low[here] = Math.min(low[here] as number, seen);
    }
  }
  return pending;

  function finish(child: number): void {
    const parent = trail[trail.length - 1];
    if (parent === undefined) return;
    const lowest = low[child] as number;
    if (lowest < (order[parent] as number)) low[parent] = Math.min(low[parent] as number, lowest);
    else while (pending.length > 0 && pending.pop() !== cameBy[child]);
  }
}
