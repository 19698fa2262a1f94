import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ceilingOf } from '../../src/ethernet/ceiling.ts';
import {
  carriedBytes,
  goodputMbps,
  type HeaderStack,
  mebibytesPerSecond,
  megabytesPerSecond,
  segmentBytes,
  usualStack,
} from '../../src/ethernet/goodput.ts';

describe('goodput', () => {
  it('is nothing where headers fill the packet', () => {
    expect(segmentBytes(52, usualStack)).toBe(0);
    expect(goodputMbps(10_000, 40, usualStack)).toBe(0);
    expect(segmentBytes(53, usualStack)).toBe(1);
  });

  it('in megabytes a second is an eighth', () => {
    expect(megabytesPerSecond(9414.4)).toBeCloseTo(1176.8, 9);
  });

  it('in mebibytes a second is what programs call 112 MB/s on a sound 1 Gb/s link', () => {
    const mbps = goodputMbps(1_000, 1500, usualStack);
    expect(mebibytesPerSecond(mbps)).toBeCloseTo(112.2, 1);
    expect(mebibytesPerSecond(8.388608)).toBe(1);
  });

  it('carries in 20 s at 9.90 Gb/s 23.1 GiB (common practice)', () => {
    expect((carriedBytes(9_900, 20) / 2 ** 30).toFixed(1)).toBe('23.1');
  });
});

describe('the ceiling against a slow and obvious reckoning', () => {
  /** Counts the octets of one packet on the wire one by one, as they go by. */
  function octets(packet: number, { ipVersion, timestamps, tags }: HeaderStack) {
    const heads = ['tcp '.repeat(20), ipVersion === 4 ? 'ip '.repeat(20) : 'ip '.repeat(40)];
    if (timestamps) heads.push('option '.repeat(12));
    const headers = heads.join('').trim().split(' ');
    const within = [
      ...headers,
      ...Array<string>(Math.max(0, packet - headers.length)).fill('user'),
    ];
    const frame = [...Array<string>(14 + 4 * tags).fill('eth'), ...within.slice(0, packet)];
    while (frame.length < 60) frame.push('pad');
    frame.push('fcs', 'fcs', 'fcs', 'fcs');
    const slot = [...Array<string>(8).fill('preamble'), ...frame, ...Array<string>(12).fill('gap')];
    return {
      slot: slot.length,
      frame: frame.length,
      user: slot.filter((o) => o === 'user').length,
    };
  }

  it('agrees for any rate, packet and headers', () => {
    fc.assert(
      fc.property(
        fc.record({
          rateMbps: fc.integer({ min: 1, max: 400_000 }),
          packetBytes: fc.integer({ min: 20, max: 10_000 }),
          stack: fc.record({
            ipVersion: fc.constantFrom(4 as const, 6 as const),
            timestamps: fc.boolean(),
            tags: fc.integer({ min: 0, max: 2 }),
          }),
        }),
        (given) => {
          const { slot, frame, user } = octets(given.packetBytes, given.stack);
          const ceiling = ceilingOf(given);
          expect(ceiling).toMatchObject({ wireBytes: slot, frameBytes: frame, segmentBytes: user });
          const bits = BigInt(given.rateMbps) * 1_000_000n;
          expect(ceiling.packetsPerSecond).toBe(Number(bits / BigInt(8 * slot)));
          expect(ceiling.goodputMbps).toBeCloseTo((given.rateMbps / slot) * user, 6);
          expect(ceiling.efficiency).toBeCloseTo(user / slot, 12);
        },
      ),
    );
  });
});
