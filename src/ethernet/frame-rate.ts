import { interFrameGapBytes, preambleBytes } from './frame-size.ts';

/**
 * Most frames a second of one size, header to FCS, that a line carries; whole frames, rounded
 * down. Source: RFC 5180 A.1.
 */
export function framesPerSecondMax(rateMbps: number, frameBytes: number): number {
  return Math.floor((rateMbps * 1e6) / (8 * (frameBytes + preambleBytes + interFrameGapBytes)));
}
