import fc from 'fast-check';
import type {
  LayoutGraph,
  LayoutLink,
  LayoutNode,
} from '../../../../src/report/page/plan/site-graph.ts';

/**
 * Any graph: tiers that skip, links that come back or lie beside each other, islands, lone nodes,
 * and nodes that share two neighbours.
 */
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
    const legs = fc.record({ a: at, b: at, count: fc.integer({ min: 2, max: 6 }) });
    return fc
      .record({
        nodes: fc.array(node, { minLength: count, maxLength: count, size: 'max' }),
        links: fc.array(link, { maxLength: count * 2, size: 'max' }),
        legs: fc.array(legs, { maxLength: 4 }),
      })
      .map(({ nodes, links, legs: legged }) => {
        // Nodes with a link to each of two others, several for the same two.
        const hanging = legged.flatMap(({ a, b, count: many }) => Array(many).fill({ a, b }));
        const added = hanging.flatMap(({ a, b }: { a: number; b: number }, index) =>
          [a, b].map((end) => ({ a: count + index, b: end, markWidth: 30, bundle: undefined })),
        );
        const all = [...nodes, ...hanging.map(() => ({ width: 90, tier: 3, folds: true }))];
        return {
          nodes: all.map((each, index): LayoutNode => ({ id: `n${index}`, ...each })),
          links: [...links, ...added].map(
            ({ a, b, markWidth, bundle }, index): LayoutLink => ({
              id: `l${index}`,
              ends: [`n${a}`, `n${b}`],
              markWidth,
              ...(bundle === undefined ? {} : { bundle }),
            }),
          ),
        };
      });
  });
}
