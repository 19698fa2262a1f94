import fc from 'fast-check';
import type { LayoutGraph, LayoutLink, LayoutNode } from '../../../src/report/page/site-graph.ts';

/** Any graph: tiers that skip, links that come back or lie beside each other, islands, lone nodes. */
export function graphs(nodesMax: number): fc.Arbitrary<LayoutGraph> {
  return fc.integer({ min: 1, max: nodesMax }).chain((count) => {
    const at = fc.nat({ max: count - 1 });
    const node = fc.record({
      width: fc.integer({ min: 40, max: 190 }),
      tier: fc.nat({ max: 4 }),
      folds: fc.boolean(),
    });
    const link = fc.record({
      a: at,
      b: at,
      markWidth: fc.constantFrom(0, 30, 118),
      bundle: fc.constantFrom(undefined, 'up', 'down'),
    });
    return fc
      .record({
        nodes: fc.array(node, { minLength: count, maxLength: count, size: 'max' }),
        links: fc.array(link, { maxLength: count * 2, size: 'max' }),
      })
      .map(({ nodes, links }) => ({
        nodes: nodes.map((each, index): LayoutNode => ({ id: `n${index}`, ...each })),
        links: links.map(
          ({ a, b, markWidth, bundle }, index): LayoutLink => ({
            id: `l${index}`,
            ends: [`n${a}`, `n${b}`],
            markWidth,
            ...(bundle === undefined ? {} : { bundle }),
          }),
        ),
      }));
  });
}
