/** Largest TCP window without the window scale option (RFC 9293 3.1, RFC 7323 2.1). */
export const unscaledWindowBytesMax = 65_535;

/** A way between two ends: rate of its slowest link, and the time there and back. */
export interface WindowPath {
  readonly rateMbps: number;
  readonly rttMs: number;
}

/** Bandwidth-delay product in bits: what is on the way at full rate (RFC 6349 3.3.1). */
export function bandwidthDelayBits({ rateMbps, rttMs }: WindowPath): number {
  return rateMbps * 1e3 * rttMs;
}

/**
 * Smallest receive window in whole bytes that keeps the path full (RFC 6349 3.3.1). The send
 * buffer must hold as much, and each direction of an uneven path is its own.
 */
export function windowBytesMin(path: WindowPath): number {
  // Rounded first: 44.21 Mb/s for 15 ms is 663150 bits, and binary fractions make it a bit more.
  return Math.ceil(Math.round((bandwidthDelayBits(path) / 8) * 1e6) / 1e6);
}

/** Throughput in Mb/s of one connection that waits for its window; `rttMs` above 0. */
export function windowLimitedMbps(windowBytes: number, rttMs: number): number {
  return (windowBytes * 8) / rttMs / 1e3;
}

/** Round trip in ms at which a window allows just so many Mb/s; `mbps` above 0. */
export function windowRttMs(windowBytes: number, mbps: number): number {
  return (windowBytes * 8) / mbps / 1e3;
}

/** Connections of one window each that fill a path together (RFC 6349 5.1, table 5.1). */
export function connectionsToFill(path: WindowPath, windowBytes: number): number {
  return Math.ceil(bandwidthDelayBits(path) / 8 / windowBytes - 1e-9);
}
