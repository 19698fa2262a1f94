import { describe, expect, it } from 'vitest';
import { frameBytes, wireBytes } from '../../src/ethernet/frame-size.ts';
import { goodputMbps, type HeaderStack, segmentBytes } from '../../src/ethernet/goodput.ts';

/**
 * TCP goodput at 1, 2.5 and 10 Gb/s, to a thousandth of a Mb/s. Sizes: preamble 8, header 14, FCS
 * 4, gap 12 (RFC 6349 4.1.1), tag 4 (IEEE 802.1Q), IPv4 20 (RFC 791), IPv6 40 (RFC 8200), TCP 20
 * (RFC 9293), timestamps 12 (RFC 7323 appendix A). Worked out apart from the code.
 */
const rows: readonly (readonly [number, 4 | 6, boolean, number, number, number, number, number])[] =
  [
    [1500, 4, false, 0, 1538, 949.285, 2373.212, 9492.848],
    [1500, 4, false, 1, 1542, 946.822, 2367.056, 9468.223],
    [1500, 4, true, 0, 1538, 941.482, 2353.706, 9414.824],
    [1500, 4, true, 1, 1542, 939.04, 2347.601, 9390.402],
    [1500, 6, false, 0, 1538, 936.281, 2340.702, 9362.809],
    [1500, 6, true, 0, 1538, 928.479, 2321.196, 9284.785],
    [1500, 6, true, 1, 1542, 926.07, 2315.175, 9260.7],
    [9000, 4, false, 0, 9038, 991.37, 2478.424, 9913.698],
    [9000, 4, false, 1, 9042, 990.931, 2477.328, 9909.312],
    [9000, 4, true, 0, 9038, 990.042, 2475.105, 9900.42],
    [9000, 4, true, 1, 9042, 989.604, 2474.01, 9896.041],
    [9000, 6, true, 0, 9038, 987.829, 2469.573, 9878.292],
  ];

describe('TCP goodput by MTU, IP version, timestamps and tags', () => {
  it.each(rows)('%i bytes, IPv%i, timestamps %s, %i tags', (mtu, ip, ts, tags, wire, ...mbps) => {
    const stack: HeaderStack = { ipVersion: ip, timestamps: ts, tags };
    expect(wireBytes(mtu, tags)).toBe(wire);
    const rounded = [1_000, 2_500, 10_000].map(
      (rate) => Math.round(goodputMbps(rate, mtu, stack) * 1000) / 1000,
    );
    expect(rounded).toEqual(mbps);
  });
});

/** TCP segment by MTU: IPv4 m - 40, IPv6 m - 60, with timestamps 12 less (RFC 9293 3.7.1). */
const segments: readonly (readonly [number, number, number, number])[] = [
  [576, 536, 516, 524],
  [1280, 1240, 1220, 1228],
  [1500, 1460, 1440, 1448],
  [9000, 8960, 8940, 8948],
  [9198, 9158, 9138, 9146],
  [9216, 9176, 9156, 9164],
];

describe('TCP segment of an MTU', () => {
  it.each(segments)('%i', (mtu, v4, v6, v4Timestamps) => {
    expect([
      segmentBytes(mtu, { ipVersion: 4, timestamps: false, tags: 0 }),
      segmentBytes(mtu, { ipVersion: 6, timestamps: false, tags: 0 }),
      segmentBytes(mtu, { ipVersion: 4, timestamps: true, tags: 0 }),
    ]).toEqual([v4, v6, v4Timestamps]);
  });
});

/** Frames with FCS of a packet: 1518 and 1522 (IEEE 802.3, 802.1Q); jumbo common practice. */
const frames: readonly (readonly [number, number, number])[] = [
  [1500, 0, 1518],
  [1500, 1, 1522],
  [1500, 2, 1526],
  [9000, 0, 9018],
  [9000, 1, 9022],
  [9000, 2, 9026],
  [9198, 0, 9216],
  [9194, 1, 9216],
  [9190, 2, 9216],
];

describe('frame size classes', () => {
  it.each(frames)('%i bytes with %i tags', (packet, tags, frame) => {
    expect(frameBytes(packet, tags)).toBe(frame);
  });

  it.each([1, 40, 46])('a packet of %i bytes is padded to a frame of 64 (RFC 894)', (packet) => {
    expect(frameBytes(packet)).toBe(64);
    expect(wireBytes(packet)).toBe(84);
  });
});
