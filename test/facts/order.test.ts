import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byName } from '../../src/facts/order.ts';

describe('byName', () => {
  it('counts numbers inside names', () => {
    const names = ['xg10', 'xg2', 'eth0', 'Port 4', 'eth', 'xg02', 'eth0.20', 'eth0.3'];
    expect(names.sort(byName)).toEqual([
      'Port 4',
      'eth',
      'eth0',
      'eth0.3',
      'eth0.20',
      'xg02',
      'xg2',
      'xg10',
    ]);
  });

  it('orders as parts of letters and of digits do, one by one', () => {
    const name = fc.string({ unit: fc.constantFrom('a', 'b', '0', '1', '9', '-'), maxLength: 8 });
    fc.assert(
      fc.property(name, name, (a, b) => {
        expect(Math.sign(byName(a, b))).toBe(Math.sign(bySplitting(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  it('is a total order', () => {
    const name = fc.string({ unit: fc.constantFrom('a', 'B', '0', '1', '9', '.'), maxLength: 6 });
    fc.assert(
      fc.property(name, name, name, (a, b, c) => {
        expect(Math.sign(byName(a, b))).toBe(-Math.sign(byName(b, a)) + 0);
        expect(byName(a, b) === 0).toBe(a === b);
        if (byName(a, b) <= 0 && byName(b, c) <= 0) expect(byName(a, c)).toBeLessThanOrEqual(0);
      }),
    );
  });
});

/** The same, slow and obvious. */
function bySplitting(a: string, b: string): number {
  const [partsA, partsB] = [a.split(/(\d+)/), b.split(/(\d+)/)];
  for (let at = 0; at < Math.min(partsA.length, partsB.length); at += 1) {
    const [partA = '', partB = ''] = [partsA[at], partsB[at]];
    const order =
      at % 2 === 1 ? Number(partA) - Number(partB) : Number(partA > partB) - Number(partA < partB);
    if (order !== 0) return order;
  }
  return partsA.length - partsB.length || Number(a > b) - Number(a < b);
}
