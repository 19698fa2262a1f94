import { wireBytes } from './frame-size.ts';

/** TCP header without options, RFC 9293 3.1. */
export const tcpHeaderBytes = 20;
/** Timestamps option, 10 bytes, with two of padding (RFC 7323 3.2 and appendix A). */
export const tcpTimestampsBytes = 12;

/** Header without options or extensions: IPv4 20 (RFC 791), IPv6 40 (RFC 8200). */
export function ipHeaderBytes(ipVersion: 4 | 6): number {
  return ipVersion === 4 ? 20 : 40;
}

/** The stack of headers that one full TCP segment carries. */
export interface HeaderStack {
  readonly ipVersion: 4 | 6;
  readonly timestamps: boolean;
  /** VLAN tags on the frame. */
  readonly tags: number;
}

/** What Linux and macOS send by default on an untagged link over IPv4 (common practice). */
export const usualStack: HeaderStack = { ipVersion: 4, timestamps: true, tags: 0 };

/** Bytes of user data in one full IP packet; 0 for a packet that only its headers fill. */
export function segmentBytes(packetBytes: number, stack: HeaderStack): number {
  const options = stack.timestamps ? tcpTimestampsBytes : 0;
  return Math.max(0, packetBytes - ipHeaderBytes(stack.ipVersion) - tcpHeaderBytes - options);
}

/**
 * Most TCP user data, in Mb/s (10^6 bit/s), that full packets of `packetBytes` carry over a line
 * of `rateMbps`: the share of each packet's line time that is user data (RFC 6349 4.1.1, with the
 * options and tags that it leaves out, and without its rounding to whole frames).
 */
export function goodputMbps(rateMbps: number, packetBytes: number, stack: HeaderStack): number {
  return (rateMbps * segmentBytes(packetBytes, stack)) / wireBytes(packetBytes, stack.tags);
}

/** Megabytes (10^6 bytes) a second, as file copies show them, from Mb/s. */
export function megabytesPerSecond(mbps: number): number {
  return mbps / 8;
}

/** Mebibytes (2^20 bytes) a second, as many programs show them under the name of megabytes. */
export function mebibytesPerSecond(mbps: number): number {
  return (mbps * 1e6) / 8 / 2 ** 20;
}

/** Bytes that a rate in Mb/s carries in so many seconds. */
export function carriedBytes(mbps: number, seconds: number): number {
  return (mbps * 1e6 * seconds) / 8;
}
