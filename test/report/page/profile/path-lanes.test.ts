import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pathLanes } from '../../../../src/report/page/profile/path-lanes.ts';
import { pathGraph } from '../../../../src/report/page/profile/path-spots.ts';
import type { SitePath } from '../../../../src/site/types.ts';
import { type HopSketch, hop, path } from '../../samples.ts';
import { profileSites } from './profile-sites.ts';

/** Lanes as their nodes, `quay-sw > vault`. */
function lanesOf(of: SitePath | undefined): string[] {
  if (of === undefined) throw new Error('no path');
  return pathLanes(pathGraph(of)).lanes.map(({ start, steps }) =>
    [start, ...steps.map(({ to }) => to)].map(({ node }) => node).join(' > '),
  );
}

type LinkEnds = readonly [string, number, string, number, Partial<HopSketch>?];

function linked(...ends: readonly LinkEnds[]) {
  const hops = ends.flatMap(([near, nearAt, far, farAt, more], at) => [
    hop({ port: `${near}:${at}`, distance: nearAt, link: `${at}`, ...more }),
    hop({ port: `${far}:${at}`, distance: farAt, link: `${at}`, ...more }),
  ]);
  return { ...path('plotting', hops, {}), from: 'plot-1', to: 'vault' };
}

describe('the lanes of a path', () => {
  it.each([
    ['a line', profileSites.allMet.paths[0], ['plot-1 > quay-sw > vault']],
    [
      'an aggregate over two switches',
      profileSites.aggregate.paths[0],
      ['plot-1 > quay-sw > vault', 'quay-sw > loft-sw > vault'],
    ],
    [
      'a ring',
      profileSites.ring.paths[0],
      ['plot-1 > quay-sw > loft-sw > vault', 'quay-sw > shed-sw > loft-sw'],
    ],
    [
      'two cords',
      linked(['plot-1', 0, 'quay-sw', 1], ['plot-1', 0, 'quay-sw', 1], ['quay-sw', 1, 'vault', 2]),
      ['plot-1 > quay-sw > vault', 'plot-1 > quay-sw'],
    ],
    [
      'the short way idle',
      linked(
        ['plot-1', 0, 'vault', 3, { inUse: false }],
        ['plot-1', 0, 'loft-sw', 1],
        ['loft-sw', 1, 'vault', 3],
      ),
      ['plot-1 > loft-sw > vault', 'plot-1 > vault'],
    ],
    [
      'a cord between two ways',
      linked(
        ['plot-1', 0, 'loft-sw', 1],
        ['plot-1', 0, 'shed-sw', 1],
        ['loft-sw', 1, 'shed-sw', 1],
        ['loft-sw', 1, 'vault', 2],
        ['shed-sw', 1, 'vault', 2],
      ),
      ['plot-1 > loft-sw > vault', 'plot-1 > shed-sw > vault', 'loft-sw > shed-sw'],
    ],
    [
      'one cord crossed twice, to a router and back',
      linked(
        ['plot-1', 0, 'quay-sw', 1],
        ['quay-sw', 1, 'gate', 2],
        ['gate', 2, 'quay-sw', 3],
        ['quay-sw', 3, 'vault', 4],
      ),
      ['plot-1 > quay-sw > gate > quay-sw > vault'],
    ],
    ['nothing declared between', profileSites.undeclared.paths[0], ['plot-1 > vault']],
    ['no port known', profileSites.nothing.paths[0], ['plot-1 > vault']],
    [
      'a part that nothing joins',
      linked(['plot-1', 0, 'quay-sw', 1], ['loft-sw', 2, 'vault', 3]),
      ['plot-1 > quay-sw > loft-sw > vault'],
    ],
  ])('are those of %s', (_, of, lanes) => {
    expect(lanesOf(of)).toEqual(lanes);
  });

  it('hold every joint once, only go forward, and part from what stands', () => {
    const sketch = fc.array(fc.tuple(fc.nat(7), fc.nat(7), fc.boolean()), {
      minLength: 1,
      maxLength: 16,
    });
    fc.assert(
      fc.property(sketch, (pairs) => {
        const name = (at: number) => (at === 0 ? 'plot-1' : at === 7 ? 'vault' : `${at}-sw`);
        const ends = pairs.flatMap(([a, b, idle]): LinkEnds[] =>
          a === b
            ? []
            : [
                [
                  name(Math.min(a, b)),
                  Math.min(a, b),
                  name(Math.max(a, b)),
                  Math.max(a, b),
                  idle ? { inUse: false } : {},
                ],
              ],
        );
        const graph = pathGraph(linked(...ends));
        const { lanes, order } = pathLanes(graph);
        const joints = lanes.flatMap(({ steps }) => steps.map(({ joint }) => joint));
        expect(new Set(joints)).toEqual(new Set(graph.joints));
        expect(joints).toHaveLength(graph.joints.length);
        expect(new Set(order)).toEqual(new Set(graph.spots));
        expect(order).toHaveLength(graph.spots.length);
        const standing = new Set<unknown>();
        lanes.forEach(({ start, steps }, at) => {
          const along = [start, ...steps.map(({ to }) => to)];
          const places = along.map((spot) => order.indexOf(spot));
          expect(places).toEqual(places.toSorted((a, b) => a - b));
          if (at > 0) expect(standing.has(start) || standing.has(along.at(-1))).toBe(true);
          for (const spot of along) standing.add(spot);
        });
      }),
    );
  });
});
