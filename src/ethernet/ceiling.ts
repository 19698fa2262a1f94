import { slotsPerSecondMax } from './frame-rate.ts';
import { frameBytes, wireBytes } from './frame-size.ts';
import { goodputMbps, type HeaderStack, segmentBytes } from './goodput.ts';

/** A line and the packets on it. */
export interface CeilingGiven {
  readonly rateMbps: number;
  /** IP packet in bytes. */
  readonly packetBytes: number;
  readonly stack: HeaderStack;
}

/** The TCP goodput that a line, a packet and its headers allow, with every step of the way. */
export interface Ceiling extends CeilingGiven {
  /** User data in one packet. */
  readonly segmentBytes: number;
  /** Header to FCS. */
  readonly frameBytes: number;
  /** Line time of one packet. */
  readonly wireBytes: number;
  /** Share of the line time that is user data, 0 to 1. */
  readonly efficiency: number;
  /** Whole packets (RFC 5180 A.1). */
  readonly packetsPerSecond: number;
  readonly goodputMbps: number;
}

/** Works the ceiling out (RFC 6349 4.1.1, with options and tags, not rounded to packets). */
export function ceilingOf({ rateMbps, packetBytes, stack }: CeilingGiven): Ceiling {
  const wire = wireBytes(packetBytes, stack.tags);
  const segment = segmentBytes(packetBytes, stack);
  return {
    rateMbps,
    packetBytes,
    stack,
    segmentBytes: segment,
    frameBytes: frameBytes(packetBytes, stack.tags),
    wireBytes: wire,
    efficiency: segment / wire,
    packetsPerSecond: slotsPerSecondMax(rateMbps, wire),
    goodputMbps: goodputMbps(rateMbps, packetBytes, stack),
  };
}
