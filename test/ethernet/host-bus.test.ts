import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BusVerdict,
  busFeeds,
  busRange,
  type HostBus,
  type PcieGeneration,
  pcieLanes,
} from '../../src/ethernet/host-bus.ts';

describe('busFeeds', () => {
  const told: readonly (readonly [HostBus, number, BusVerdict])[] = [
    [
      { kind: 'pcie', generation: 2, lanes: 1 },
      10_000,
      {
        feeds: false,
        availableMbps: 3282,
        words:
          'PCI Express 2.0 x1 carries 3.28 to 3.66 Gb/s of data: too little for a port of 10 Gb/s',
      },
    ],
    [
      { kind: 'pcie', generation: 3, lanes: 4 },
      10_000,
      {
        feeds: true,
        availableMbps: 25_852,
        words:
          'PCI Express 3.0 x4 carries 25.85 to 28.81 Gb/s of data: enough for a port of 10 Gb/s',
      },
    ],
    [
      { kind: 'thunderbolt', version: 1 },
      10_000,
      {
        feeds: 'tight',
        availableMbps: 8205,
        words: 'Thunderbolt 1 carries 8.21 to 10 Gb/s of data: hardly enough for a port of 10 Gb/s',
      },
    ],
    [
      { kind: 'usb', speedMbps: 480 },
      2500,
      {
        feeds: false,
        availableMbps: 280,
        words:
          'USB at 480 Mb/s carries 0.28 to 0.35 Gb/s of data: too little for a port of 2.5 Gb/s',
      },
    ],
  ];
  it.each(told)('%j, %i Mb/s', (bus, port, verdict) => {
    expect(busFeeds(bus, port)).toEqual(verdict);
  });

  const generation = fc.constantFrom<PcieGeneration>(1, 2, 3, 4, 5);
  const lanes = fc.constantFrom(...pcieLanes);
  const rank = { false: 0, tight: 1, true: 2 };

  it('more lanes never carry less, and a faster port is never fed better', () => {
    fc.assert(
      fc.property(
        generation,
        lanes,
        lanes,
        fc.integer({ min: 1, max: 400_000 }),
        (gen, a, b, port) => {
          const [narrower, wider] = a < b ? [a, b] : [b, a];
          const narrow = { kind: 'pcie', generation: gen, lanes: narrower } as const;
          const wide = { kind: 'pcie', generation: gen, lanes: wider } as const;
          const of = (bus: HostBus, mbps: number) => rank[`${busFeeds(bus, mbps).feeds}`];
          expect(of(wide, port)).toBeGreaterThanOrEqual(of(narrow, port));
          expect(of(wide, port * 2)).toBeLessThanOrEqual(of(wide, port));
          const [worst, best] = busRange(wide);
          expect(worst).toBeLessThan(best);
        },
      ),
    );
  });
});
