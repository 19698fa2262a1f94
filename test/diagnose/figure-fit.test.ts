import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ceilingsOf, fitsCeiling } from '../../src/diagnose/figure-fit.ts';

const exact = (mbps: number) => ({ mbps, roundingShare: 0 });

describe('the ceilings that a figure fits', () => {
  /** Mb/s, rounding as a share, ceiling, whether it fits. */
  const rows: readonly (readonly [string, number, number, number, boolean])[] = [
    ['as reckoned', 941.482, 0, 941.482, true],
    ['100 ppm faster: the clocks (RFC 5180 A.1)', 941.482 * 1.0001, 0, 941.482, true],
    ['200 ppm faster: no line does that', 941.482 * 1.0002, 0, 941.482, false],
    ['rounded up', 942, 0.5 / 942, 941.6, true],
    ['0.9 % short', 933, 0, 941.482, true],
    ['1.1 % short', 931, 0, 941.482, false],
  ];
  it.each(rows)('%s', (_, mbps, roundingShare, ceiling, fits) => {
    expect(fitsCeiling({ mbps, roundingShare }, ceiling)).toBe(fits);
  });

  it('begin at the figure and end one per cent above', () => {
    const { leastMbps, mostMbps } = ceilingsOf(exact(990));
    expect(leastMbps).toBeCloseTo(990 / 1.0001, 9);
    expect(mostMbps).toBeCloseTo(1000, 9);
  });

  it('grow with the rounding of the figure', () => {
    const share = fc.double({ min: 0, max: 0.4, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e5, noNaN: true }), share, (mbps, roundingShare) => {
        const [narrow, wide] = [ceilingsOf(exact(mbps)), ceilingsOf({ mbps, roundingShare })];
        expect(wide.leastMbps).toBeLessThanOrEqual(narrow.leastMbps);
        expect(wide.mostMbps).toBeGreaterThanOrEqual(narrow.mostMbps);
      }),
    );
  });
});
