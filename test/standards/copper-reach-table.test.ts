import { describe, expect, it } from 'vitest';
import {
  type CopperCategory,
  copperGrades,
  copperPhys,
  copperReach,
  highestCopperRate,
} from '../../src/ethernet/copper-reach.ts';
import { copperCategories } from '../../src/intent/types.ts';

/**
 * Reach in metres of PHYs over twisted pair, categories 5e, 6, 6A, 7 and 8. `*`: only in defined
 * deployments (TIA TSB-5021, ISO/IEC TR 11801-9904). `-`: not specified. `m`: from memory.
 * Secondary sources for: IEEE 802.3ab, 802.3bz, 802.3an with TIA TSB-155 and ISO/IEC TR 24750 (37
 * m from one article), 802.3bq with TIA-568-C.2-1.
 */
const columns = ['cat5e', 'cat6', 'cat6a', 'cat7', 'cat8'] as const;
const table: readonly (readonly [string, string, string, string, string, string])[] = [
  ['100BASE-TX', '100', '100', '100', '100', '100 m'],
  ['1000BASE-T', '100', '100', '100', '100', '100 m'],
  ['2.5GBASE-T', '100*', '100', '100', '100', '100 m'],
  ['5GBASE-T', '100*', '100*', '100', '100', '100 m'],
  ['10GBASE-T', '-', '37 to 55*', '100', '100', '100 m'],
  ['25GBASE-T', '-', '-', '-', '-', '30'],
  ['40GBASE-T', '-', '-', '-', '-', '30'],
];

function asWritten(phy: string, category: CopperCategory): string {
  const reach = copperReach(phy, category);
  if (reach === undefined) return '-';
  const { assuredMetres, conditionalMetres, condition, mark } = reach;
  expect(condition === undefined).toBe(conditionalMetres === undefined);
  const metres = [assuredMetres, conditionalMetres].filter((each) => each !== undefined);
  const star = conditionalMetres === undefined ? '' : '*';
  return `${metres.join(' to ')}${star}${mark === 'from memory' ? ' m' : ''}`;
}

describe('reach over twisted pair (secondary source, category 8 at 100 m from memory)', () => {
  it.each(table)('%s: 5e %s, 6 %s, 6A %s, 7 %s, 8 %s', (phy, ...cells) => {
    expect(columns.map((category) => asWritten(phy, category))).toEqual(cells);
  });

  it('has these PHYs and no other, fastest first, and the categories of the intent', () => {
    expect(copperPhys.map(({ phy }) => phy)).toEqual(table.map(([phy]) => phy).reverse());
    expect(copperGrades).toEqual(copperCategories);
  });

  it('on category 5 has 100BASE-TX (secondary source) and 1000BASE-T if measured (from memory)', () => {
    const found = copperPhys.map(({ phy }) => [phy, asWritten(phy, 'cat5')]);
    expect(found.filter(([, cell]) => cell !== '-')).toEqual([
      ['1000BASE-T', '100* m'],
      ['100BASE-TX', '100'],
    ]);
  });
});

/**
 * The same read the other way: the fastest per category and length, computed by hand from the
 * rows above. Assured, then conditional where that is higher.
 */
const fastest: readonly (readonly [
  CopperCategory,
  number,
  number | undefined,
  number | undefined,
])[] = [
  ['cat5', 100, 100, 1000],
  ['cat5e', 1, 1000, 5000],
  ['cat5e', 100, 1000, 5000],
  ['cat6', 37, 10_000, undefined],
  ['cat6', 37.01, 2500, 10_000],
  ['cat6', 55, 2500, 10_000],
  ['cat6', 55.01, 2500, 5000],
  ['cat6', 100, 2500, 5000],
  ['cat6a', 100, 10_000, undefined],
  ['cat7', 100, 10_000, undefined],
  ['cat8', 30, 40_000, undefined],
  ['cat8', 30.01, 10_000, undefined],
  ['cat8', 100, 10_000, undefined],
  ['cat5e', 100.01, undefined, undefined],
  ['cat6', 100.01, undefined, undefined],
  ['cat8', 100.01, undefined, undefined],
];

describe('the fastest over a category and a length (computed from secondary sources)', () => {
  it.each(fastest)('%s over %d m: %s Mb/s, conditional %s', (category, metres, assured, maybe) => {
    const { condition, ...rates } = highestCopperRate(category, metres);
    expect(rates).toEqual({
      ...(assured === undefined ? {} : { assuredMbps: assured }),
      ...(maybe === undefined ? {} : { conditionalMbps: maybe }),
    });
    expect(condition === undefined).toBe(maybe === undefined);
  });
});
