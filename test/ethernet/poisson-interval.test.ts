import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { poissonInterval } from '../../src/ethernet/poisson-interval.ts';

/**
 * Garwood 1936 (Biometrika 28), the limits that Pearson and Hartley print as table 40 of the
 * Biometrika Tables for Statisticians; from memory. At 99 %: zero is -ln 0.005.
 */
const printed: readonly (readonly [number, number, number, number, number])[] = [
  [0, 0.95, 0, 3.69, 2],
  [1, 0.95, 0.0253, 5.57, 2],
  [2, 0.95, 0.242, 7.22, 2],
  [3, 0.95, 0.619, 8.77, 2],
  [4, 0.95, 1.09, 10.24, 2],
  [5, 0.95, 1.62, 11.67, 2],
  [10, 0.95, 4.8, 18.39, 2],
  [20, 0.95, 12.22, 30.89, 2],
  [30, 0.95, 20.24, 42.83, 2],
  [50, 0.95, 37.11, 65.92, 2],
  [0, 0.99, 0, 5.3, 2],
  [1, 0.99, 0.00501, 7.43, 2],
  [10, 0.99, 3.72, 21.4, 1],
];

describe('exact limits of a Poisson mean', () => {
  it.each(printed)(
    '%i events at %d are those of the table',
    (count, confidence, least, most, d) => {
      const interval = poissonInterval(count, confidence);
      const lowDigits = (String(least).split('.')[1] ?? '').length;
      expect(interval.least).toBeCloseTo(least, lowDigits);
      expect(interval.most).toBeCloseTo(most, d);
    },
  );

  it.each([
    [0.9, 17.38, 34.92],
    [0.95, 16.18, 36.9],
    [0.99, 14.0, 41.0],
  ])('25 events at %d (worked example of a help page on the Garwood method)', (...row) => {
    const [confidence, least, most] = row;
    const interval = poissonInterval(25, confidence);
    expect(interval.least).toBeCloseTo(least, 2);
    expect(interval.most).toBeCloseTo(most, 2);
  });

  it('is half the chi-square quantiles of a general library', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.constantFrom(0.8, 0.9, 0.95, 0.99, 0.999),
        (count, confidence) => {
          const tail = (1 - confidence) / 2;
          const { least, most } = poissonInterval(count, confidence);
          const [low, high] = [
            jstat.chisquare.inv(tail, 2 * count) / 2,
            jstat.chisquare.inv(1 - tail, 2 * count + 2) / 2,
          ];
          expect(Math.abs(least / low - 1)).toBeLessThan(1e-6);
          expect(Math.abs(most / high - 1)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('puts the chance of each tail where it was asked for, summed term by term', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 120 }), (count) => {
        const { least, most } = poissonInterval(count, 0.95);
        expect(1 - chanceOfUpTo(count - 1, least)).toBeCloseTo(0.025, 9);
        expect(chanceOfUpTo(count, most)).toBeCloseTo(0.025, 9);
      }),
    );
  });

  it('grows with the count, and narrows around it', () => {
    let before = { least: -1, most: 0 };
    for (let count = 0; count <= 400; count += 1) {
      const now = poissonInterval(count, 0.95);
      expect(now.least).toBeGreaterThan(before.least);
      expect(now.most).toBeGreaterThan(before.most);
      expect(now.least).toBeLessThanOrEqual(count);
      expect(now.most).toBeGreaterThan(count);
      before = now;
    }
  });

  it('meets the normal approximation for a million, and goes on in proportion', () => {
    const million = poissonInterval(1_000_000, 0.95);
    expect(million.least).toBeCloseTo(1e6 - 1.959964 * 1e3 + (1.959964 ** 2 - 1) / 3, 0);
    expect(million.most).toBeCloseTo(1e6 + 1.959964 * 1e3 + (1.959964 ** 2 + 2) / 3, -1);
    const milliard = poissonInterval(1_000_000_000, 0.95);
    expect(milliard.least).toBeCloseTo(million.least * 1000, 0);
    expect(milliard.most).toBeCloseTo(million.most * 1000, 0);
  });

  it.each([
    [-1, 0.95],
    [1.5, 0.95],
    [Number.NaN, 0.95],
    [1, 0],
    [1, 1],
    [1, Number.NaN],
  ])('refuses a count of %d at %d', (count, confidence) => {
    expect(() => poissonInterval(count, confidence)).toThrow(RangeError);
  });
});

function chanceOfUpTo(count: number, mean: number): number {
  let [term, sum] = [Math.exp(-mean), Math.exp(-mean)];
  for (let k = 1; k <= count; k += 1) {
    term *= mean / k;
    sum += term;
  }
  return sum;
}
