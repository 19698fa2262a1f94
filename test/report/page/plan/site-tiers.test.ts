import { describe, expect, it } from 'vitest';
import { tiersOf } from '../../../../src/report/page/plan/site-tiers.ts';
import { campus, islands, mesh, ring, type Sketch, star, twoLegged } from './drawn-sites.ts';

/** Names by tier, each tier in the order of names. */
function tiered({ nodes, links }: Sketch): Record<number, string[]> {
  const names = Object.keys(nodes);
  const found = tiersOf({
    nodes: names.map((id) => ({
      id,
      folds: !id.endsWith('-sw'),
      forwards: id.endsWith('-sw'),
    })),
    links: Object.keys(links).map((id) => {
      const [a = '', b = ''] = id.split(' - ').map((end) => end.split(':')[0] ?? '');
      return { id, ends: [a, b], markWidth: 0 };
    }),
  });
  const byTier: Record<number, string[]> = {};
  for (const name of names.sort()) {
    const tier = found.get(name) ?? -1;
    byTier[tier] = [...(byTier[tier] ?? []), name];
  }
  return byTier;
}

const switches = (tier: readonly string[] = []) => tier.filter((name) => name.endsWith('-sw'));

describe('tiers', () => {
  it('put both switches of the middle of a campus first, then wings, floors and tables', () => {
    const tiers = tiered(campus());
    expect(tiers[0]).toEqual(['core-1-sw', 'core-2-sw']);
    expect(switches(tiers[1])).toHaveLength(8);
    expect(tiers[1]?.every((name) => name.startsWith('wing-'))).toBe(true);
    expect(switches(tiers[2])).toHaveLength(40);
    expect(tiers[3]).toHaveLength(150);
  });

  it('fold a ring into its two ways round', () => {
    const counts = [0, 1, 2, 3].map((tier) => switches(tiered(ring())[tier]).length);
    expect(counts).toEqual([1, 2, 2, 1]);
  });

  it('keep a mesh in one tier', () => {
    expect(switches(tiered(mesh())[0])).toHaveLength(6);
  });

  it.each([
    ['one switch with its hosts', star(), ['quay-sw']],
    ['hosts on two switches', twoLegged(), ['left-sw', 'right-sw']],
  ])('begin at %s', (_, sketch, first) => {
    expect(tiered(sketch)[0]).toEqual(first);
  });

  it('begin anew in each island, and place nodes in no link', () => {
    const first = tiered(islands())[0];
    expect(switches(first)).toEqual(['north-1-sw', 'shed-sw', 'south-1-sw']);
    expect(first).toContain('buoy');
    expect(first).toContain('left');
  });
});
