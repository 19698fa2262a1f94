import { describe, expect, it } from 'vitest';
import { busArithmetic } from '../../src/ethernet/bus-arithmetic.ts';
import { busFromText } from '../../src/ethernet/host-bus-text.ts';

describe('busArithmetic', () => {
  // Rates after coding: PCI Express 8b/10b to generation 2, 128b/130b from 3 on, USB 8b/10b and
  // 128b/132b (secondary source, computed).
  it.each([
    ['PCIe 2.5 GT/s x1', '2.5 GT/s on 1 lane, of which coding leaves 8/10: 2 Gb/s'],
    ['PCIe 5.0 GT/s x4', '5 GT/s on 4 lanes, of which coding leaves 8/10: 16 Gb/s'],
    ['PCIe 8.0 GT/s x1', '8 GT/s on 1 lane, of which coding leaves 128/130: 7.88 Gb/s'],
    ['PCIe 16.0 GT/s x2', '16 GT/s on 2 lanes, of which coding leaves 128/130: 31.51 Gb/s'],
    ['USB 480 Mb/s', '480 Mb/s, of which polling leaves 280 to 350 Mb/s'],
    ['USB 5000 Mb/s', '5 Gb/s, of which coding leaves 8/10: 4 Gb/s'],
    ['USB 20000 Mb/s', '20 Gb/s, of which coding leaves 128/132: 19.39 Gb/s'],
    ['Thunderbolt 10 Gb/s', '10 Gb/s a channel'],
    ['Thunderbolt 20 Gb/s', 'PCI Express 2.0 x4 behind it, 16 Gb/s'],
    ['Thunderbolt 40 Gb/s', '16 Gb/s of data guaranteed'],
  ])('%s', (text, words) => {
    const bus = busFromText(text);
    expect(bus && busArithmetic(bus).startsWith(words)).toBe(true);
  });
});
