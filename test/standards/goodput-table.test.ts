import { describe, expect, it } from 'vitest';
import { ceilingOf } from '../../src/ethernet/ceiling.ts';
import { frameBytes, wireBytes } from '../../src/ethernet/frame-size.ts';
import {
  goodputMbps,
  type HeaderStack,
  segmentBytes,
  usualStack,
} from '../../src/ethernet/goodput.ts';

/**
 * TCP goodput at 100 Mb/s to 100 Gb/s, to a thousandth of a Mb/s. Sizes: preamble 8, header 14,
 * FCS 4, gap 12 (RFC 6349 4.1.1), tag 4 (IEEE 802.1Q), IPv4 20 (RFC 791), IPv6 40 (RFC 8200), TCP
 * 20 (RFC 9293), timestamps 12 (RFC 7323 appendix A). Worked out apart from the code.
 */
const ratesMbps = [100, 1_000, 2_500, 5_000, 10_000, 25_000, 40_000, 100_000];
type Row = readonly [number, 4 | 6, boolean, number, number, number, readonly number[]];
const rows: readonly Row[] = [
  [
    1500,
    4,
    false,
    0,
    1538,
    94.9285,
    [94.928, 949.285, 2373.212, 4746.424, 9492.848, 23732.12, 37971.391, 94928.479],
  ],
  [
    1500,
    4,
    false,
    1,
    1542,
    94.6822,
    [94.682, 946.822, 2367.056, 4734.112, 9468.223, 23670.558, 37872.892, 94682.231],
  ],
  [
    1500,
    4,
    true,
    0,
    1538,
    94.1482,
    [94.148, 941.482, 2353.706, 4707.412, 9414.824, 23537.061, 37659.298, 94148.244],
  ],
  [
    1500,
    4,
    true,
    1,
    1542,
    93.904,
    [93.904, 939.04, 2347.601, 4695.201, 9390.402, 23476.005, 37561.608, 93904.021],
  ],
  [
    1500,
    6,
    false,
    0,
    1538,
    93.6281,
    [93.628, 936.281, 2340.702, 4681.404, 9362.809, 23407.022, 37451.235, 93628.088],
  ],
  [
    1500,
    6,
    true,
    0,
    1538,
    92.8479,
    [92.848, 928.479, 2321.196, 4642.393, 9284.785, 23211.964, 37139.142, 92847.854],
  ],
  [
    1500,
    6,
    true,
    1,
    1542,
    92.607,
    [92.607, 926.07, 2315.175, 4630.35, 9260.7, 23151.751, 37042.802, 92607.004],
  ],
  [
    9000,
    4,
    false,
    0,
    9038,
    99.137,
    [99.137, 991.37, 2478.424, 4956.849, 9913.698, 24784.244, 39654.791, 99136.977],
  ],
  [
    9000,
    4,
    false,
    1,
    9042,
    99.0931,
    [99.093, 990.931, 2477.328, 4954.656, 9909.312, 24773.28, 39637.248, 99093.121],
  ],
  [
    9000,
    4,
    true,
    0,
    9038,
    99.0042,
    [99.004, 990.042, 2475.105, 4950.21, 9900.42, 24751.051, 39601.682, 99004.204],
  ],
  [
    9000,
    4,
    true,
    1,
    9042,
    98.9604,
    [98.96, 989.604, 2474.01, 4948.02, 9896.041, 24740.102, 39584.163, 98960.407],
  ],
  [
    9000,
    6,
    true,
    0,
    9038,
    98.7829,
    [98.783, 987.829, 2469.573, 4939.146, 9878.292, 24695.729, 39513.167, 98782.917],
  ],
];

describe('TCP goodput by MTU, IP version, timestamps and tags', () => {
  it.each(rows)('%i bytes, IPv%i, timestamps %s, %i tags', (mtu, ip, ts, tags, wire, eff, mbps) => {
    const stack: HeaderStack = { ipVersion: ip, timestamps: ts, tags };
    expect(wireBytes(mtu, tags)).toBe(wire);
    const rounded = ratesMbps.map(
      (rate) => Math.round(goodputMbps(rate, mtu, stack) * 1000) / 1000,
    );
    expect(rounded).toEqual(mbps);
    const ceiling = ceilingOf({ rateMbps: 1_000, packetBytes: mtu, stack });
    expect(ceiling.efficiency * 100).toBeCloseTo(eff, 4);
  });
});

/** Whole packets a second of 1500 and of 9000 bytes, untagged (the formula of RFC 5180 A.1). */
const packets: readonly (readonly [number, number, number])[] = [
  [1_000, 81_274, 13_830],
  [2_500, 203_185, 34_576],
  [5_000, 406_371, 69_152],
  [10_000, 812_743, 138_304],
  [25_000, 2_031_859, 345_762],
  [40_000, 3_250_975, 553_219],
  [100_000, 8_127_438, 1_383_049],
];

describe('packets a second', () => {
  it.each(packets)('at %i Mb/s', (rateMbps, small, large) => {
    const rate = (packetBytes: number) =>
      ceilingOf({ rateMbps, packetBytes, stack: usualStack }).packetsPerSecond;
    expect([rate(1500), rate(9000)]).toEqual([small, large]);
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
