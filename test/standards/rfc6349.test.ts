import { describe, expect, it } from 'vitest';
import { framesPerSecondMax } from '../../src/ethernet/frame-rate.ts';
import { frameBytes, wireBytes } from '../../src/ethernet/frame-size.ts';
import { goodputMbps, segmentBytes } from '../../src/ethernet/goodput.ts';

/** RFC 6349 counts no TCP options and no tag, over IPv4. */
const stack = { ipVersion: 4, timestamps: false, tags: 0 } as const;

describe('RFC 6349 4.1.1, maximum achievable TCP throughput', () => {
  it('takes 1538 bytes of line time for an MTU of 1500', () => {
    expect(wireBytes(1500)).toBe(1538);
  });

  /** Frames a second, bit/s, and Mb/s as table 4.1.2 prints them: cut off, the last to a whole. */
  const rows: readonly (readonly [number, number, number, number])[] = [
    [100, 8_127, 94_923_360, 94.9],
    [1_000, 81_274, 949_280_320, 949.2],
    [10_000, 812_743, 9_492_838_240, 9_492.0],
  ];
  it.each(rows)('%i Mb/s', (mbps, frames, bits, printed) => {
    expect(framesPerSecondMax(mbps, frameBytes(1500))).toBe(frames);
    expect(frames * segmentBytes(1500, stack) * 8).toBe(bits);
    expect(bits / 1e6).toBeGreaterThanOrEqual(printed);
    expect(bits / 1e6 - printed).toBeLessThan(mbps === 10_000 ? 1 : 0.1);
    // Ours does not round to whole frames: at most one frame a second more.
    const more = goodputMbps(mbps, 1500, stack) * 1e6 - bits;
    expect(more).toBeGreaterThanOrEqual(0);
    expect(more).toBeLessThan(1460 * 8);
  });
});
