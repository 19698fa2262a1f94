import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { partsOf } from '../../../../src/report/page/plan/island-parts.ts';
import { graphOf } from '../../../../src/report/page/plan/sheet-graph.ts';
import { islandsOf, type LayoutGraph } from '../../../../src/report/page/plan/site-graph.ts';
import { layoutSite } from '../../../../src/report/page/plan/site-layout.ts';
import type { Point } from '../../../../src/report/page/plan/site-layout-types.ts';
import {
  crossingsOf,
  orderTiers,
  type TierItem,
} from '../../../../src/report/page/plan/tier-order.ts';
import { wholeSheet } from '../../../../src/report/page/plan/whole-sheet.ts';
import { auditOf, campus } from './drawn-sites.ts';
import { graphs } from './graphs.ts';

/** Two tiers with links between them, in the order of declaration. */
function twoTiers(links: readonly (readonly [number, number])[], size: number): TierItem[][] {
  const tiers = [0, 1].map(() =>
    Array.from({ length: size }, (_, at): TierItem => ({ at, before: [], after: [], beside: [] })),
  );
  for (const [a, b] of links) {
    const [left, right] = [tiers[0]?.[a], tiers[1]?.[b]];
    if (left === undefined || right === undefined) continue;
    left.after.push(right);
    right.before.push(left);
  }
  return tiers;
}

const size = 12;
const end = fc.nat({ max: size - 1 });
const someLinks = fc.array(fc.tuple(end, end), { maxLength: 30 });

/** Every pair of links, asked one by one. */
function counted(links: readonly (readonly [number, number])[]): number {
  return links.reduce(
    (sum, [a, b], at) => sum + links.slice(at + 1).filter(([c, d]) => (a - c) * (b - d) < 0).length,
    0,
  );
}

describe('the order within tiers', () => {
  it('counts crossings as asking every pair of links does', () => {
    fc.assert(
      fc.property(someLinks, (links) => {
        expect(crossingsOf(twoTiers(links, size))).toBe(counted(links));
      }),
    );
  });

  it('never has more crossings than the order of declaration', () => {
    fc.assert(
      fc.property(someLinks, (links) => {
        const tiers = twoTiers(links, size);
        const declared = crossingsOf(tiers);
        expect(crossingsOf(orderTiers(tiers))).toBeLessThanOrEqual(declared);
      }),
    );
  });

  it('keeps every member of each tier', () => {
    fc.assert(
      fc.property(graphs(40), (graph) => {
        for (const island of islandsOf(graph)) {
          const { tiers } = partsOf(island);
          const hubs = tiers.flat().flatMap(({ hub }) => hub?.node.id ?? []);
          expect(hubs.sort()).toEqual(island.hubs.map(({ node }) => node.id).sort());
          for (const tier of tiers) expect(tier.map(({ at }) => at)).toEqual([...tier.keys()]);
        }
      }),
      { numRuns: 50 },
    );
  });
});

/** Pairs of straight lines from middle to middle that cross. */
function straightCrossings({ links }: LayoutGraph, at: (id: string) => Point): number {
  const lines = links.map(({ ends: [a, b] }) => [at(a), at(b)] as const);
  const turn = (a: Point, b: Point, c: Point) =>
    Math.sign((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
  let crossings = 0;
  for (const [index, [a, b]] of lines.entries()) {
    for (const [c, d] of lines.slice(index + 1)) {
      if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) crossings += 1;
    }
  }
  return crossings;
}

describe('a campus of 200 nodes', () => {
  it('has less than a twentieth of the crossings that the order of declaration has', () => {
    const sheet = wholeSheet(auditOf(campus(), []));
    const graph = graphOf(sheet, () => '');
    const counts = new Map<number, number>();
    const declared = new Map(
      graph.nodes.map(({ id, tier }) => {
        const y = counts.get(tier) ?? 0;
        counts.set(tier, y + 1);
        return [id, { x: tier, y }];
      }),
    );
    const { boxes } = layoutSite(graph);
    const origin = { x: 0, y: 0 };
    const before = straightCrossings(graph, (id) => declared.get(id) ?? origin);
    const after = straightCrossings(graph, (id) => {
      const { x, y, width, height } = boxes.get(id) ?? { ...origin, width: 0, height: 0 };
      return { x: x + width / 2, y: y + height / 2 };
    });
    expect(graph.nodes).toHaveLength(200);
    expect(before).toBeGreaterThan(1000);
    expect(after).toBeLessThan(before / 20);
  });
});
