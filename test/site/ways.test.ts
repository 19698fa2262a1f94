import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edgesOnWays, type PlainGraph } from '../../src/site/ways.ts';

type Edges = readonly (readonly [number, number])[];

function graphOf(vertices: number, edges: Edges): PlainGraph {
  const adjacent: number[][] = Array.from({ length: vertices }, () => []);
  edges.forEach(([u, v], at) => {
    adjacent[u]?.push(at);
    adjacent[v]?.push(at);
  });
  return {
    vertices,
    at: (vertex) => adjacent[vertex] ?? [],
    other: (edge, vertex) => {
      const [u, v] = edges[edge] ?? [0, 0];
      return u === vertex ? v : u;
    },
  };
}

/** The slow and obvious way: every loop-free way, one after the other. */
function byEnumeration(vertices: number, edges: Edges, start: number, end: number): number[] {
  const graph = graphOf(vertices, edges);
  const used = new Set<number>();
  const walk = (here: number, visited: ReadonlySet<number>, way: readonly number[]) => {
    if (here === end) {
      for (const edge of way) used.add(edge);
      return;
    }
    for (const edge of graph.at(here)) {
      const there = graph.other(edge, here);
      if (!visited.has(there)) walk(there, new Set([...visited, there]), [...way, edge]);
    }
  };
  walk(start, new Set([start]), []);
  return [...used].sort((a, b) => a - b);
}

function sorted(vertices: number, edges: Edges, start: number, end: number): number[] {
  return edgesOnWays(graphOf(vertices, edges), start, end).sort((a, b) => a - b);
}

describe('edgesOnWays', () => {
  const rows: readonly [string, number, Edges, readonly number[]][] = [
    [
      'a chain',
      3,
      [
        [0, 2],
        [2, 1],
      ],
      [0, 1],
    ],
    [
      'a chain with a dead end',
      4,
      [
        [0, 2],
        [2, 1],
        [2, 3],
      ],
      [0, 1],
    ],
    [
      'a ring behind one vertex is no way',
      5,
      [
        [0, 2],
        [2, 1],
        [2, 3],
        [3, 4],
        [4, 2],
      ],
      [0, 1],
    ],
    [
      'two ways',
      4,
      [
        [0, 2],
        [2, 1],
        [0, 3],
        [3, 1],
      ],
      [0, 1, 2, 3],
    ],
    [
      'two ways and a rung',
      4,
      [
        [0, 2],
        [2, 1],
        [0, 3],
        [3, 1],
        [2, 3],
      ],
      [0, 1, 2, 3, 4],
    ],
    [
      'two links side by side',
      3,
      [
        [0, 2],
        [0, 2],
        [2, 1],
      ],
      [0, 1, 2],
    ],
    [
      'a direct link beside a detour',
      3,
      [
        [0, 1],
        [0, 2],
        [2, 1],
      ],
      [0, 1, 2],
    ],
    [
      'ends not joined',
      4,
      [
        [0, 2],
        [3, 1],
      ],
      [],
    ],
    ['no edge at all', 2, [], []],
  ];
  it.each(rows)('%s', (_, vertices, edges, expected) => {
    expect(sorted(vertices, edges, 0, 1)).toEqual(expected);
  });

  it('finds what an enumeration of all loop-free ways finds', () => {
    const graphs = fc.integer({ min: 2, max: 8 }).chain((vertices) => {
      const vertex = fc.integer({ min: 0, max: vertices - 1 });
      const edge = fc.tuple(vertex, vertex).filter(([u, v]) => u !== v);
      return fc.tuple(fc.constant(vertices), fc.array(edge, { maxLength: 14 }));
    });
    fc.assert(
      fc.property(graphs, ([vertices, edges]) => {
        expect(sorted(vertices, edges, 0, 1)).toEqual(byEnumeration(vertices, edges, 0, 1));
      }),
      { numRuns: 2000 },
    );
  });

  it('walks a chain of 200,000 vertices without running out of stack', () => {
    const length = 200_000;
    const chain: Edges = Array.from({ length }, (_, at) => [
      at === 0 ? 0 : at + 1,
      at === length - 1 ? 1 : at + 2,
    ]);
    expect(sorted(length + 2, chain, 0, 1)).toHaveLength(length);
  });
});
