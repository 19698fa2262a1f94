import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ErrorRate, errorRate, usualErrorRules } from '../../src/ethernet/error-rate.ts';
import { type PhyErrorLimit, phyErrorLimit } from '../../src/ethernet/phy-error-limit.ts';

function limitOf(phy: string): PhyErrorLimit {
  const limit = phyErrorLimit(phy);
  if (limit === undefined) throw new Error(`no limit of ${phy}`);
  return limit;
}

/** Frames of 1500 bytes that make up so many octets. */
function received(octets: number, erroredFrames: number) {
  return { frames: Math.round(octets / 1500) - erroredFrames, octets, erroredFrames };
}

const [gb, tb] = [1e9, 1e12];

describe('errors against the limit of the PHY', () => {
  const rows: readonly (readonly [string, string, number, number, ErrorRate['verdict']])[] = [
    ['three in three gigabytes matter', '10GBASE-SR', 3 * gb, 3, 'worse-than-limit'],
    ['thirty in fifty terabytes do not', '10GBASE-SR', 50 * tb, 30, 'within'],
    ['three in three gigabytes may be normal', '1000BASE-T', 3 * gb, 3, 'cannot-tell-yet'],
    ['two in a kilobyte accuse nobody', '10GBASE-SR', 1500, 2, 'cannot-tell-yet'],
    ['none in a gigabyte proves nothing', '10GBASE-SR', gb, 0, 'cannot-tell-yet'],
    ['none in half a terabyte does', '10GBASE-SR', 0.5 * tb, 0, 'within'],
    ['as many as the limit expects', '10GBASE-SR', 25 * tb, 200, 'cannot-tell-yet'],
    ['hundreds in a gigabyte', '1000BASE-T', gb, 500, 'worse-than-limit'],
    ['a flood', '1000BASE-T', tb, 20_000_000, 'worse-than-limit'],
    ['nothing carried', '10GBASE-SR', 0, 0, 'cannot-tell-yet'],
    ['three lost frames in three gigabytes', '10GBASE-T', 3 * gb, 3, 'worse-than-limit'],
    ['thirty lost frames in fifty terabytes', '10GBASE-T', 50 * tb, 30, 'within'],
  ];
  it.each(rows)('%s (%s)', (_, phy, octets, errors, verdict) => {
    expect(errorRate(received(octets, errors), limitOf(phy)).verdict).toBe(verdict);
  });

  it('gives the estimate with its exact bounds (10 events: 4.795 to 18.390, Garwood 1936)', () => {
    const rate = errorRate(received(1.25 * tb, 10), limitOf('10GBASE-LR'));
    expect(rate.judgedBy).toBe('bit-error-ratio');
    expect(rate.limit).toBe(1e-12);
    expect(rate.ratio).toBeCloseTo(1e-12, 20);
    expect((rate.atLeast ?? 0) * 1e13).toBeCloseTo(4.7954, 3);
    expect((rate.atMost ?? 0) * 1e13).toBeCloseTo(18.3904, 3);
  });

  it('claims no ratio where nothing was carried', () => {
    const rate = errorRate({ frames: 0, octets: 0, erroredFrames: 0 }, limitOf('10GBASE-SR'));
    expect(rate).toEqual({
      verdict: 'cannot-tell-yet',
      judgedBy: 'bit-error-ratio',
      limit: 1e-12,
      erroredFrames: 0,
      moreOctets: Math.ceil(-Math.log(0.025) / 1e-12 / 8),
    });
  });

  it('claims no ratio of errors that came with no octets', () => {
    const rate = errorRate({ frames: 0, octets: 0, erroredFrames: 9 }, limitOf('10GBASE-SR'));
    expect(rate.verdict).toBe('cannot-tell-yet');
    expect(rate).not.toHaveProperty('ratio');
    expect(rate).not.toHaveProperty('moreOctets');
  });
});

describe('where the PHY corrects errors', () => {
  it('judges lost frames, not bits', () => {
    const rate = errorRate(received(3 * gb, 6), limitOf('10GBASE-T'));
    expect(rate.judgedBy).toBe('frame-loss-ratio');
    expect(rate.ratio).toBe(6 / 2_000_000);
    expect(rate.limit).toBeCloseTo((6.4e-9 * (12_000 + 3250)) / (6400 + 3250), 18);
  });

  it('takes short frames that fell together for one event', () => {
    const [octets, erroredFrames] = [64 * 1e9, 9];
    const traffic = { frames: 1e9 - 9, octets, erroredFrames };
    const bursts = errorRate(traffic, limitOf('25GBASE-SR'));
    // A code word of 5280 bits takes up to 11.3 frames of 512 bits: nine are less than one event.
    expect(bursts.atLeast).toBe(0);
    expect(bursts.verdict).toBe('cannot-tell-yet');
  });
});

describe('how much more traffic would tell', () => {
  const sample = fc.record({
    phy: fc.constantFrom('1000BASE-T', '10GBASE-SR', '10GBASE-T', '25GBASE-SR'),
    gigabytes: fc.double({ min: 0.001, max: 1000, noNaN: true }),
    errors: fc.integer({ min: 0, max: 40 }),
  });

  it('is right: after it, at the same rate, there is a verdict; and well before it there is none', () => {
    fc.assert(
      fc.property(sample, ({ phy, gigabytes, errors }) => {
        const limit = limitOf(phy);
        const before = received(gigabytes * gb, errors);
        const { verdict, moreOctets } = errorRate(before, limit);
        expect(moreOctets === undefined || verdict === 'cannot-tell-yet').toBe(true);
        if (moreOctets === undefined) return;
        const grow = (octets: number) => {
          const factor = 1 + octets / before.octets;
          const erroredFrames = errors * factor;
          const round =
            (errors * 8) / before.octets > limit.bitErrorRatioMax ? Math.round : Math.ceil;
          return errorRate(
            {
              octets: before.octets * factor,
              frames: before.frames * factor + erroredFrames - round(erroredFrames),
              erroredFrames: round(erroredFrames),
            },
            limit,
          ).verdict;
        };
        if (errors === 0) {
          expect(grow(moreOctets * 1.001 + 1)).toBe('within');
          expect(grow(moreOctets * 0.999 - 1)).toBe('cannot-tell-yet');
        } else {
          // Counts are whole, so that the verdict can fall some events later.
          expect(
            [1.2, 1.5, 2, 4].some((more) => grow(moreOctets * more) !== 'cannot-tell-yet'),
          ).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('is not promised at the limit itself', () => {
    const rate = errorRate(received(125 * gb, 1), limitOf('10GBASE-SR'));
    expect(rate.verdict).toBe('cannot-tell-yet');
    expect(rate).not.toHaveProperty('moreOctets');
  });

  it('never accuses below the least count, however little was carried', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 64, max: 1_000_000 }),
        fc.integer({ min: 0, max: 2 }),
        (o, n) => {
          const rate = errorRate({ frames: 1, octets: o, erroredFrames: n }, limitOf('10GBASE-SR'));
          expect(rate.verdict).not.toBe('worse-than-limit');
        },
      ),
    );
    expect(usualErrorRules).toEqual({ confidence: 0.95, erroredFramesMin: 3 });
  });

  it('never turns better when errors are added, nor worse when traffic is', () => {
    const order = ['within', 'cannot-tell-yet', 'worse-than-limit'] as const;
    fc.assert(
      fc.property(sample, ({ phy, gigabytes, errors }) => {
        const limit = limitOf(phy);
        const rank = (octets: number, n: number) =>
          order.indexOf(
            errorRate({ frames: octets / 1500, octets, erroredFrames: n }, limit).verdict,
          );
        const octets = gigabytes * gb;
        expect(rank(octets, errors + 1)).toBeGreaterThanOrEqual(rank(octets, errors));
        expect(rank(octets * 2, errors)).toBeLessThanOrEqual(rank(octets, errors));
      }),
    );
  });
});
