import { describe, expect, it } from 'vitest';
import { framesPerSecondMax } from '../../src/ethernet/frame-rate.ts';
import { frameBytes, wireBytes } from '../../src/ethernet/frame-size.ts';
import { goodputMbps, segmentBytes } from '../../src/ethernet/goodput.ts';
import {
  achievableMbps,
  averageRttMs,
  bufferDelayPercent,
  idealTransferSeconds,
  tcpEfficiencyPercent,
  transferTimeRatio,
} from '../../src/ethernet/tcp-metrics.ts';
import {
  bandwidthDelayBits,
  connectionsToFill,
  unscaledWindowBytesMax,
  windowBytesMin,
  windowLimitedMbps,
  windowRttMs,
} from '../../src/ethernet/tcp-window.ts';
import { transferMetrics } from '../../src/ethernet/transfer-metrics.ts';

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

/** RFC 6349 counts a KB as 1000 bytes. */
const kb = 1000;
/** Slots for an MTU of 1500 without options: Ethernet, and PPP on T1 and T3 (RFC 6349 4.1.1). */
const ethernet = { wireBytes: wireBytes(1500), userBytes: segmentBytes(1500, stack) };
const serial = { wireBytes: 1500 + 4 + 2 + 2, userBytes: 1460 };

describe('RFC 6349 3.3.1, bandwidth-delay product', () => {
  /** Link in Mb/s, round trip in ms, product in bits, smallest window in KB as printed. */
  const rows: readonly (readonly [number, number, number, number])[] = [
    [1.536, 20, 30_720, 3.84],
    [1.536, 50, 76_800, 9.6],
    [1.536, 100, 153_600, 19.2],
    [44.21, 10, 442_100, 55.26],
    [44.21, 15, 663_150, 82.89],
    [44.21, 25, 1_105_250, 138.16],
    [100, 1, 100_000, 12.5],
    [100, 2, 200_000, 25],
    [100, 5, 500_000, 62.5],
    [1_000, 0.1, 100_000, 12.5],
    [1_000, 0.5, 500_000, 62.5],
    [1_000, 1, 1_000_000, 125],
    [10_000, 0.05, 500_000, 62.5],
    [10_000, 0.3, 3_000_000, 375],
  ];
  it.each(rows)('%d Mb/s over %d ms', (rateMbps, rttMs, bits, windowKb) => {
    const path = { rateMbps, rttMs };
    expect(bandwidthDelayBits(path)).toBeCloseTo(bits, 6);
    expect(windowBytesMin(path)).toBe(Math.ceil(bits / 8));
    expect(Math.abs(windowBytesMin(path) / kb - windowKb)).toBeLessThan(0.006);
  });

  it('is reckoned for each direction: 5 Mb/s down and 640 kb/s up over 90 ms', () => {
    expect(bandwidthDelayBits({ rateMbps: 5, rttMs: 90 })).toBeCloseTo(450_000, 6);
    expect(bandwidthDelayBits({ rateMbps: 0.64, rttMs: 90 })).toBeCloseTo(57_600, 6);
  });
});

describe('RFC 6349 3.3.1, throughput that a window allows', () => {
  /** Mb/s, slot, window in KB, round trip in ms, throughput as printed (cut to a tenth). */
  const rows: readonly (readonly [string, number, typeof serial, number, number, number])[] = [
    ['text', 100, ethernet, 16, 5, 25.6],
    ['figure 3.3.1a', 44.21, serial, 16, 10, 12.8],
    ['figure 3.3.1a', 44.21, serial, 64, 10, 42.8],
    ['figure 3.3.1a', 44.21, serial, 16, 15, 8.5],
    ['figure 3.3.1a', 44.21, serial, 64, 15, 34.1],
    ['figure 3.3.1a', 44.21, serial, 16, 25, 5.1],
    ['figure 3.3.1a', 44.21, serial, 64, 25, 20.5],
    ['figure 3.3.1b', 44.21, serial, 16, 25, 5.1],
    ['figure 3.3.1b', 44.21, serial, 32, 25, 10.2],
    ['figure 3.3.1b', 44.21, serial, 64, 25, 20.5],
    ['figure 3.3.1b', 44.21, serial, 128, 25, 40.9],
  ];
  it.each(rows)('%s: %d Mb/s, %o, %i KB, %i ms', (_, rateMbps, slot, windowKb, rttMs, printed) => {
    const cap = achievableMbps(rateMbps, slot);
    const mbps = Math.min(windowLimitedMbps(windowKb * kb, rttMs), cap);
    // Some are cut and some are rounded to a tenth.
    expect(Math.abs(mbps - printed)).toBeLessThan(0.1);
  });

  /** 65535 bytes (RFC 7323 2.1, from memory) at round trips of a LAN; worked out by hand. */
  it.each([
    [0.1, 5242.8],
    [0.2, 2621.4],
    [0.5, 1048.6],
    [1, 524.3],
  ])('without scaling, over %d ms', (rttMs, mbps) => {
    expect(windowLimitedMbps(unscaledWindowBytesMax, rttMs)).toBeCloseTo(mbps, 1);
    expect(windowRttMs(unscaledWindowBytesMax, mbps)).toBeCloseTo(rttMs, 3);
  });

  /** Windows of a LAN by the formula of 3.3.1, worked out by hand. */
  it.each([
    [1_000, 0.2, 25_000],
    [1_000, 0.5, 62_500],
    [1_000, 1, 125_000],
    [2_500, 0.2, 62_500],
    [10_000, 0.1, 125_000],
    [10_000, 0.2, 250_000],
    [10_000, 0.5, 625_000],
    [10_000, 1, 1_250_000],
    [25_000, 0.2, 625_000],
    [40_000, 0.2, 1_000_000],
    [100_000, 0.2, 2_500_000],
  ])('needs at %i Mb/s and %d ms a window of %i bytes', (rateMbps, rttMs, bytes) => {
    expect(windowBytesMin({ rateMbps, rttMs })).toBe(bytes);
  });
});

describe('RFC 6349 4.1.1, other framing', () => {
  it('T3 with PPP: 3664 packets a second, 42.8 Mb/s', () => {
    expect(achievableMbps(44.21, serial)).toBeCloseTo((3664 * 11_680) / 1e6, 9);
    expect(achievableMbps(44.21, serial)).toBeCloseTo(42.8, 1);
  });

  it('T1 with PPP: 1.4 Mb/s (cut off)', () => {
    expect(Math.floor(achievableMbps(1.536, serial) * 10) / 10).toBe(1.4);
  });
});

describe('RFC 6349 table 4.1.2, ideal transfer of 100 MB', () => {
  /**
   * Link, round trip, product in KB, most Mb/s, seconds by 800 Mbit over it. The seconds that the
   * table prints (571, 18, 9, 1, 0.1) are not asserted: it rounds 18.69 down and 8.43 up.
   */
  const rows: readonly (readonly [number, typeof serial, number, number, number, number])[] = [
    [1.536, serial, 50, 9.6, 1.4, 571.4],
    [44.21, serial, 25, 138.2, 42.8, 18.69],
    [100, ethernet, 2, 25, 94.9, 8.43],
    [1_000, ethernet, 1, 125, 949.2, 0.843],
    [10_000, ethernet, 0.05, 62.5, 9_492, 0.0843],
  ];
  it.each(rows)('%d Mb/s', (rateMbps, slot, rttMs, productKb, printed, seconds) => {
    expect(windowBytesMin({ rateMbps, rttMs }) / kb).toBeCloseTo(productKb, 1);
    const mbps = achievableMbps(rateMbps, slot);
    expect(Math.abs(mbps - printed)).toBeLessThan(rateMbps === 10_000 ? 1 : 0.1);
    expect(idealTransferSeconds(100e6, printed) / seconds).toBeCloseTo(1, 3);
  });
});

describe('RFC 6349, the three metrics', () => {
  it('4.1.2: five transfers of 100 MB at 500 Mb/s, 12 s for an ideal of 8, are 1.5', () => {
    const ideal = idealTransferSeconds(5 * 100e6, 500);
    expect(ideal).toBe(8);
    expect(transferTimeRatio(12, ideal)).toBe(1.5);
  });

  it('4.2: 2000 of 102,000 sent again are 98.03 % (98.039, which the RFC cuts off)', () => {
    const sent = { transmittedBytes: 102_000, retransmittedBytes: 2_000 };
    const percent = tcpEfficiencyPercent(sent) ?? Number.NaN;
    expect(Math.floor(percent * 100) / 100).toBe(98.03);
    expect(percent).toBeCloseTo(98.0392, 4);
  });

  it('4.3: from 25 to 32 ms are 28 %', () => {
    expect(bufferDelayPercent(32, 25)).toBeCloseTo(28, 9);
    expect(averageRttMs([30, 32, 34])).toBe(32);
  });

  it('say nothing without what they are measured against', () => {
    expect(transferTimeRatio(12, 0)).toBeUndefined();
    expect(tcpEfficiencyPercent({ transmittedBytes: 0, retransmittedBytes: 0 })).toBeUndefined();
    expect(averageRttMs([])).toBeUndefined();
    expect(bufferDelayPercent(32, 0)).toBeUndefined();
  });
});

describe('RFC 6349 table 5.1, connections that fill 500 Mb/s over 5 ms', () => {
  it.each([
    [16, 20],
    [32, 10],
    [64, 5],
    [128, 3],
  ])('of %i KB: %i', (windowKb, connections) => {
    expect(connectionsToFill({ rateMbps: 500, rttMs: 5 }, windowKb * kb)).toBe(connections);
  });

  it('are no more than whole windows need', () => {
    expect(connectionsToFill({ rateMbps: 100, rttMs: 5 }, 62_500)).toBe(1);
    expect(connectionsToFill({ rateMbps: 44.21, rttMs: 15 }, 663_150 / 80)).toBe(10);
  });
});

describe('RFC 6349 4, the three metrics together', () => {
  it('come out as the worked examples print them', () => {
    // 4.1.2: 500 MB at 500 Mb/s, 12 s; 4.2: 2,000 of 102,000 again; 4.3: 25 ms to 32 ms.
    const metrics = transferMetrics({
      ...{ bytes: 500e6, tookSeconds: 12, ceilingMbps: 500 },
      transmitted: { transmittedBytes: 102_000, retransmittedBytes: 2_000 },
      ...{ idleMs: 25, loadedMs: [32, 30, 34] },
    });
    expect(metrics.idealSeconds).toBeCloseTo(8, 9);
    expect(metrics.timeRatio).toBeCloseTo(1.5, 9);
    // The RFC cuts off: 98.03.
    expect(Math.floor((metrics.efficiencyPercent ?? 0) * 100) / 100).toBe(98.03);
    expect(metrics.averageRttMs).toBe(32);
    expect(metrics.bufferDelayPercent).toBeCloseTo(28, 9);
  });

  it('are each absent where what they need is not known', () => {
    const known = { bytes: 1, tookSeconds: 1, loadedMs: [] };
    expect(transferMetrics(known)).toEqual({});
    expect(transferMetrics({ ...known, idleMs: 1, ceilingMbps: 0 })).toEqual({});
    expect(transferMetrics({ ...known, loadedMs: [2] })).toEqual({ averageRttMs: 2 });
  });
});
