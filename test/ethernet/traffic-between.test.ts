import { describe, expect, it } from 'vitest';
import {
  type CounterKind,
  type TrafficCounters,
  trafficBetween,
} from '../../src/ethernet/traffic-between.ts';

const before: TrafficCounters = {
  frames: 1_000,
  octets: 1_500_000,
  erroredFrames: 4,
  atSeconds: 100,
  uptimeSeconds: 5_000,
  discontinuityTicks: 7,
};
const after: TrafficCounters = {
  frames: 3_000,
  octets: 4_500_000,
  erroredFrames: 9,
  atSeconds: 400,
  uptimeSeconds: 5_300,
  discontinuityTicks: 7,
};
const wide: CounterKind = { bits: 64 };

describe('traffic between two readings', () => {
  it('is the difference of each counter', () => {
    expect(trafficBetween(before, after, wide)).toEqual({
      traffic: { frames: 2_000, octets: 3_000_000, erroredFrames: 5 },
    });
  });

  it('is nothing where nothing moved', () => {
    expect(trafficBetween(before, before, wide)).toEqual({
      traffic: { frames: 0, octets: 0, erroredFrames: 0 },
    });
  });

  const narrow: CounterKind = { bits: 32, speedMbps: 100 };
  it('can be told of 32-bit counters that had no time to wrap', () => {
    // 2^32 octets at 100 Mb/s take 343.6 s.
    expect(trafficBetween(before, after, narrow)).toHaveProperty('traffic');
    expect(trafficBetween(before, { ...after, atSeconds: 443 }, narrow)).toHaveProperty('traffic');
    expect(trafficBetween(before, { ...after, atSeconds: 444 }, narrow)).toEqual({
      gap: {
        reason: 'doubtful',
        words: '32-bit counters may have wrapped within 344 s at 100 Mb/s',
      },
    });
  });

  const refused: readonly (readonly [string, TrafficCounters, CounterKind, string])[] = [
    [
      'a reset',
      { ...after, erroredFrames: 0 },
      wide,
      'erroredFrames went back from 4 to 0: reset or wrapped',
    ],
    [
      'a wrap',
      { ...after, octets: 12 },
      wide,
      'octets went back from 1500000 to 12: reset or wrapped',
    ],
    [
      'a restart',
      { ...after, uptimeSeconds: 30 },
      wide,
      'the node started again between the readings (up 30 s, before 5000 s)',
    ],
    [
      'an interruption',
      { ...after, discontinuityTicks: 8 },
      wide,
      'the agent says that its counters were interrupted (ifCounterDiscontinuityTime)',
    ],
    [
      '32 bits without a speed',
      after,
      { bits: 32 },
      '32-bit counters, and the time or the speed that says whether they wrapped is missing',
    ],
    [
      'readings in the wrong order',
      { ...after, atSeconds: 90 },
      narrow,
      'the second reading is older than the first',
    ],
    ['a fraction', { ...after, frames: 3000.5 }, wide, 'frames is no count'],
    ['a count beyond exact numbers', { ...after, octets: 2 ** 60 }, wide, 'octets is no count'],
    ['no number', { ...after, octets: Number.NaN }, wide, 'octets is no count'],
    ['a negative count', { ...after, frames: -1 }, wide, 'frames is no count'],
    [
      'frames without octets',
      { ...after, octets: 1_500_001 },
      wide,
      '1 octets are too few for 2000 frames',
    ],
    [
      'octets without frames',
      { ...after, frames: 1_001, octets: 1_700_000 },
      wide,
      '200000 octets are too many for 1 frames',
    ],
  ];
  it.each(refused)('is refused after %s', (_, later, kind, words) => {
    expect(trafficBetween(before, later, kind)).toEqual({ gap: { reason: 'doubtful', words } });
  });

  it.each(['frames', 'octets', 'erroredFrames'] as const)('needs %s both times', (name) => {
    const { [name]: _, ...rest } = after;
    const expected = { gap: { reason: 'unasked', words: `${name} was not read both times` } };
    expect(trafficBetween(before, rest, wide)).toEqual(expected);
    expect(trafficBetween(rest, after, wide)).toEqual(expected);
  });
});
