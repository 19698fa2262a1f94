import type { Trouble } from '../facts/trouble.ts';

/** What became of one packet size. `words` are the node's own, cleaned. */
export type FitVerdict =
  /** It came back. */
  | { readonly kind: 'passes' }
  /** The sender's own interface or route takes no such packet. */
  | { readonly kind: 'own-interface-small'; readonly mtuBytes?: number; readonly words: string }
  /** A router said that it is too big; absent address: the sender had learnt it before. */
  | {
      readonly kind: 'router-said';
      readonly address?: string;
      readonly mtuBytes?: number;
      readonly words: string;
    }
  /** No answer and no error, while a smaller size came back: it vanishes on the way. */
  | { readonly kind: 'silent' }
  | { readonly kind: 'cannot-tell'; readonly words: string };

/** One IP packet size, in bytes, and what became of it. */
export interface SizeFit {
  readonly sizeBytes: number;
  readonly verdict: FitVerdict;
}

/** Which packet sizes pass from one host to one address, in one direction. */
export interface Fit {
  readonly toAddress: string;
  /** In ascending order of size. */
  readonly sizes: readonly SizeFit[];
  /** Largest size that came back; absent when none did. */
  readonly provenBytes?: number;
}

/** What a host answered, or why it could not be asked. */
export type FitOutcome =
  | { readonly ok: true; readonly fit: Fit }
  | { readonly ok: false; readonly trouble: Trouble };

/** The address and packet sizes that a host is to try. */
export interface FitRequest {
  /** Literal IP address. */
  readonly toAddress: string;
  /** IP packet sizes in bytes; at most `fitSizesMax`. Sent in ascending order. */
  readonly sizesBytes: readonly number[];
}

/** Sizes that one fit may try: a fit is never a sweep. */
export const fitSizesMax = 6;
/** Packets sent of one size. */
export const packetsPerSize = 2;
/** IPv4 header (RFC 791) and ICMP header (RFC 792). */
export const pingHeaderBytesV4 = 28;
/** IPv6 header (RFC 8200) and ICMPv6 header (RFC 4443). */
export const pingHeaderBytesV6 = 48;
