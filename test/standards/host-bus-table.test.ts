import { describe, expect, it } from 'vitest';
import {
  busFeeds,
  busRange,
  type PcieGeneration,
  type PcieLanes,
  pcieCodedMbps,
  usbCodedMbps,
} from '../../src/ethernet/host-bus.ts';

/** PCI Express, Gb/s one way after line coding, x1 to x16 (secondary source for rate and coding). */
const coded: readonly (readonly [PcieGeneration, number, number, number, number, number])[] = [
  [1, 2, 4, 8, 16, 32],
  [2, 4, 8, 16, 32, 64],
  [3, 7.877, 15.754, 31.508, 63.015, 126.03],
  [4, 15.754, 31.508, 63.015, 126.03, 252.06],
  [5, 31.508, 63.015, 126.03, 252.06, 504.12],
];
/** MB/s per lane of the same (secondary source). */
const perLane: readonly (readonly [PcieGeneration, number])[] = [
  [1, 250],
  [2, 500],
  [3, 984.6],
  [4, 1969.2],
  [5, 3938.5],
];
const widths = [1, 2, 4, 8, 16] as const;

describe('PCI Express after coding (secondary source)', () => {
  it.each(coded)('generation %i: x1 %d, x2 %d, x4 %d, x8 %d, x16 %d Gb/s', (generation, ...row) => {
    // Printed to at most three decimals, so half of the last one is allowed.
    widths.forEach((lanes, at) => {
      const gbps = pcieCodedMbps(generation, lanes) / 1000;
      expect(Math.abs(gbps - (row[at] ?? Number.NaN))).toBeLessThanOrEqual(0.005);
    });
  });

  it.each(perLane)('generation %i: %d MB/s a lane', (generation, megabytes) => {
    expect(Math.abs(pcieCodedMbps(generation, 1) / 8 - megabytes)).toBeLessThanOrEqual(0.05);
  });

  it('keeps 82 to 91 % after packets of 128 and 256 bytes (overhead from memory)', () => {
    const [worst, best] = busRange({ kind: 'pcie', generation: 1, lanes: 4 });
    // 8,000 x 128/156 and 8,000 x 256/280.
    expect([worst, best]).toEqual([6564, 7314]);
  });
});

type Feeds = boolean | 'tight';
const ports: readonly (readonly [PcieGeneration, PcieLanes, number, Feeds])[] = [
  [1, 8, 10_000, true],
  [2, 4, 10_000, true],
  [3, 2, 10_000, true],
  [4, 1, 10_000, true],
  [5, 1, 10_000, true],
  [1, 4, 10_000, false],
  [2, 2, 10_000, false],
  [3, 1, 10_000, false],
  // 31.5 Gb/s before packets, called tight: the same for each way to have them.
  [3, 4, 25_000, 'tight'],
  [4, 2, 25_000, 'tight'],
  [5, 1, 25_000, 'tight'],
  [3, 8, 40_000, true],
  [4, 4, 40_000, true],
  // 126 Gb/s before packets: the same ratio as 31.5 to 25.
  [3, 16, 100_000, 'tight'],
  [4, 8, 100_000, 'tight'],
  [5, 4, 100_000, 'tight'],
];

describe('which PCI Express link feeds which port (computed from secondary sources)', () => {
  it.each(ports)('generation %i x%i, %i Mb/s: %s', (generation, lanes, port, feeds) => {
    expect(busFeeds({ kind: 'pcie', generation, lanes }, port).feeds).toBe(feeds);
  });
});

describe('Thunderbolt and a port of 10 Gb/s (secondary source)', () => {
  it.each([
    // 10 Gb/s per channel, less its protocol.
    [1, [8205, 10_000], 'tight'],
    // PCI Express 2.0 x4: 16 Gb/s.
    [2, [13_128, 14_629], true],
    // 16 Gb/s guaranteed, about 22 usable.
    [3, [13_128, 22_000], true],
    // PCI Express 3.0 x4: 31,507.7 Mb/s, x 128/156 and x 256/280.
    [4, [25_852, 28_807], true],
  ] as const)('%i carries %j Mb/s: %s', (version, range, feeds) => {
    expect(busRange({ kind: 'thunderbolt', version })).toEqual(range);
    expect(busFeeds({ kind: 'thunderbolt', version }, 10_000).feeds).toBe(feeds);
  });
});

describe('USB (rates secondary source; coding, and the share of its packets, from memory)', () => {
  it.each([
    [5000, 4000],
    [10_000, 9697],
    [20_000, 19_394],
  ] as const)('%i Mb/s is %i after coding', (speedMbps, after) => {
    expect(Math.round(usbCodedMbps(speedMbps))).toBe(after);
  });

  it.each([
    // High speed in practice: 280 to 350 Mb/s (common practice).
    [480, 100, true],
    [480, 1000, false],
    [480, 2500, false],
    [5000, 1000, true],
    [5000, 2500, true],
    [5000, 5000, false],
    [10_000, 5000, true],
    [10_000, 10_000, false],
    [20_000, 10_000, true],
  ] as const)('%i Mb/s and a port of %i: %s', (speedMbps, port, feeds) => {
    expect(busFeeds({ kind: 'usb', speedMbps }, port).feeds).toBe(feeds);
  });
});
