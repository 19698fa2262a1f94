/** PCI Express generations and their rate per lane, in GT/s (PCI-SIG, secondary source). */
export const pcieGigatransfers = { 1: 2.5, 2: 5, 3: 8, 4: 16, 5: 32 } as const;
/** A generation of PCI Express. */
export type PcieGeneration = keyof typeof pcieGigatransfers;
/** Link widths of PCI Express. */
export const pcieLanes = [1, 2, 4, 8, 12, 16, 32] as const;
/** Lanes of a PCI Express link. */
export type PcieLanes = (typeof pcieLanes)[number];
/** Rates of USB in Mb/s: 2.0 high speed, 3.2 Gen 1, Gen 2, Gen 2x2 (secondary source). */
export const usbSpeeds = [480, 5000, 10_000, 20_000] as const;
/** A signalling rate of USB, in Mb/s. */
export type UsbSpeedMbps = (typeof usbSpeeds)[number];

/**
 * What joins an adapter to its computer. A PCI Express link through Thunderbolt is a Thunderbolt
 * bus: the link that its device shows is not a real one.
 */
export type HostBus =
  | { readonly kind: 'pcie'; readonly generation: PcieGeneration; readonly lanes: PcieLanes }
  | { readonly kind: 'thunderbolt'; readonly version: 1 | 2 | 3 | 4 }
  | { readonly kind: 'usb'; readonly speedMbps: UsbSpeedMbps };

/**
 * Shares of the coded rate that carry data, worst and best. PCI Express: 128 bytes of data with 28
 * of overhead, 256 with 24 (overhead from memory, shares computed). USB 3: from memory.
 */
const pcieShares = [128 / (128 + 28), 256 / (256 + 24)] as const;
const usb3Shares = [0.8, 0.9] as const;

/** Mb/s, one direction, in the worst and in the best case. */
export type BusRange = readonly [number, number];

/** PCI Express rate in Mb/s after 8b/10b (generations 1, 2) or 128b/130b, before packets. */
export function pcieCodedMbps(generation: PcieGeneration, lanes: PcieLanes): number {
  const coding = generation <= 2 ? 8 / 10 : 128 / 130;
  return pcieGigatransfers[generation] * 1000 * coding * lanes;
}

/** USB rate in Mb/s after coding: 8b/10b (Gen 1) and 128b/132b (Gen 2) from memory; 2.0 has none. */
export function usbCodedMbps(speedMbps: UsbSpeedMbps): number {
  if (speedMbps === 480) return speedMbps;
  return speedMbps * (speedMbps === 5000 ? 8 / 10 : 128 / 132);
}

/** Data that a bus carries one way, after coding and the overhead of its packets. */
export function busRange(bus: HostBus): BusRange {
  switch (bus.kind) {
    case 'pcie':
      return shared(pcieCodedMbps(bus.generation, bus.lanes), pcieShares);
    case 'thunderbolt':
      return thunderboltRange(bus.version);
    case 'usb':
      // High speed in practice (common practice): polling takes the rest.
      return bus.speedMbps === 480 ? [280, 350] : shared(usbCodedMbps(bus.speedMbps), usb3Shares);
  }
}

function shared(codedMbps: number, [worst, best]: readonly [number, number]): BusRange {
  return [Math.round(codedMbps * worst), Math.round(codedMbps * best)];
}

/**
 * Secondary source: 1 has 10 Gb/s per channel; 2 a controller with PCI Express 2.0 x4; 3 about 22
 * Gb/s of data with 16 guaranteed; 4 at least PCI Express 3.0 x4, called 32.
 */
function thunderboltRange(version: 1 | 2 | 3 | 4): BusRange {
  const [worst] = pcieShares;
  switch (version) {
    case 1:
      return [Math.round(10_000 * worst), 10_000];
    case 2:
      return shared(pcieCodedMbps(2, 4), pcieShares);
    case 3:
      return [Math.round(16_000 * worst), 22_000];
    case 4:
      return shared(pcieCodedMbps(3, 4), pcieShares);
  }
}

/** Whether a bus feeds a port, and what it has to give. */
export interface BusVerdict {
  /** `tight`: only in the best case, or with less than a twentieth to spare. */
  readonly feeds: boolean | 'tight';
  /** In the worst case, one direction. */
  readonly availableMbps: number;
  readonly words: string;
}

/** Descriptors and doorbells travel beside the packets; ours, for want of a published figure. */
const reserve = 1.05;

/** Whether a bus carries a port of `portSpeedMbps`, above 0, at its full rate one way. */
export function busFeeds(bus: HostBus, portSpeedMbps: number): BusVerdict {
  const [worst, best] = busRange(bus);
  const feeds = worst >= portSpeedMbps * reserve ? true : best >= portSpeedMbps ? 'tight' : false;
  const carries = `${busWords(bus)} carries ${gigabits(worst)} to ${gigabits(best)} Gb/s of data`;
  const against = `a port of ${gigabits(portSpeedMbps)} Gb/s`;
  const ends = {
    true: `enough for ${against}`,
    tight: `hardly enough for ${against}`,
    false: `too little for ${against}`,
  };
  return { feeds, availableMbps: worst, words: `${carries}: ${ends[`${feeds}`]}` };
}

function gigabits(mbps: number): string {
  return String(Math.round(mbps / 10) / 100);
}

/** A bus as people call it: `PCI Express 3.0 x1`. */
export function busWords(bus: HostBus): string {
  switch (bus.kind) {
    case 'pcie':
      return `PCI Express ${bus.generation}.0 x${bus.lanes}`;
    case 'thunderbolt':
      return `Thunderbolt ${bus.version}`;
    case 'usb':
      return `USB at ${bus.speedMbps} Mb/s`;
  }
}
