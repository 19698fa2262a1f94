import { interFrameGapBytes, preambleBytes } from './frame-size.ts';

/**
 * Most frames a second of one size, header to FCS, that a line carries; whole frames, rounded
 * down. Source: RFC 5180 A.1.
 */
export function framesPerSecondMax(rateMbps: number, frameBytes: number): number {
  return slotsPerSecondMax(rateMbps, frameBytes + preambleBytes + interFrameGapBytes);
}

/**
 * The same by the bytes of line time that each takes, whatever the framing: RFC 6349 4.1.1 counts
 * 1538 for an MTU of 1500 on Ethernet and 1508 on a serial line.
 */
export function slotsPerSecondMax(rateMbps: number, wireBytes: number): number {
  return Math.floor((rateMbps * 1e6) / (8 * wireBytes));
}
