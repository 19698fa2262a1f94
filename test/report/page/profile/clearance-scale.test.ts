import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clearanceScale } from '../../../../src/report/page/profile/clearance-scale.ts';

const size = fc.integer({ min: 68, max: 65_535 });

describe('the scale of a clearance drawing', () => {
  it('keeps the usual sizes apart, whatever else is drawn', () => {
    fc.assert(
      fc.property(fc.array(size, { maxLength: 20 }), (sizes) => {
        const { heightOf } = clearanceScale(sizes);
        const heights = [1280, 1500, 2000, 9000, 9216].map(heightOf);
        const steps = heights.slice(1).map((height, at) => height - (heights[at] ?? 0));
        expect(Math.min(...steps)).toBeGreaterThanOrEqual(7 - 1e-9);
      }),
    );
  });

  it('is higher for what is larger, and never above its height', () => {
    fc.assert(
      fc.property(fc.array(size, { maxLength: 12 }), size, size, (sizes, a, b) => {
        const { heightOf, heightMax } = clearanceScale(sizes);
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(heightOf(low)).toBeLessThanOrEqual(heightOf(high));
        expect(heightOf(high)).toBeLessThanOrEqual(heightMax);
        expect(heightOf(low)).toBeGreaterThan(0);
      }),
    );
  });
});
