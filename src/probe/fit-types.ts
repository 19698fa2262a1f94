import type { Trouble } from '../facts/trouble.ts';

/** What became of one packet size. `words` are the node's own, cleaned. */
export type FitVerdict =
  /** It came back. */
  | { readonly kind: 'passes' }
  /** The sender's own interface takes no such packet. */
  | {
      readonly kind: 'own-interface-small';
      readonly device?: string;
      readonly mtuBytes?: number;
      readonly words: string;
    }
  /** The interface takes it, and a route of the sender does not: an MTU is set on that route. */
  | { readonly kind: 'route-small'; readonly mtuBytes: number; readonly words: string }
  /** A router said that it is too big; absent address: the sender had learnt it before. */
  | {
      readonly kind: 'router-said';
      readonly address?: string;
      readonly mtuBytes?: number;
      readonly words: string;
    }
  /** No answer and no error, every try, while a smaller size came back: it vanishes on the way. */
  | { readonly kind: 'silent' }
  | { readonly kind: 'cannot-tell'; readonly words: string };

/** One IP packet size, in bytes, and what became of it. */
export interface SizeFit {
  readonly sizeBytes: number;
  readonly verdict: FitVerdict;
  /** How often it was sent; 0: it was not. */
  readonly tries: number;
}

/** What the sender itself says of its way to the address. */
export interface OwnWay {
  readonly device?: string;
  readonly interfaceMtuBytes?: number;
  /** MTU of the route, where one is set or the system prints the one in use. */
  readonly routeMtuBytes?: number;
  /** Path MTU that a router told it earlier, and that it will forget again. */
  readonly learntMtuBytes?: number;
  /** True: by no router, as far as its own route goes. Absent: not known. */
  readonly onLink?: boolean;
}

/** Which packet sizes pass from one host to one address, in one direction. */
export interface Fit {
  readonly toAddress: string;
  readonly own: OwnWay;
  /** In ascending order of size. */
  readonly sizes: readonly SizeFit[];
  /** Largest size that came back; absent when none did. */
  readonly provenBytes?: number;
}

/** What a host answered, or why it could not be asked. */
export type FitOutcome =
  | { readonly ok: true; readonly fit: Fit }
  | { readonly ok: false; readonly trouble: Trouble };

/** The IP packet sizes of a fit, in bytes. */
export interface FitPlan {
  /** Tried in this order, each larger than the one before, until one does not come back. */
  readonly risingBytes: readonly number[];
  /**
   * Tried only when the last of `risingBytes` is lost in silence: what would pass where an MTU
   * counts something else than the packet. Ascending; at most `nearSizesMax`.
   */
  readonly nearBytes: readonly number[];
  /** Tried only when the first of `risingBytes` does not come back: does anything? */
  readonly floorBytes: number;
}

/** The address and packet sizes that a host is to try. */
export interface FitRequest {
  /** Literal IP address. */
  readonly toAddress: string;
  readonly plan: FitPlan;
}

/** Sizes that one fit may rise through: a fit is never a sweep. */
export const fitSizesMax = 6;
/** Sizes between the last that passes and the first that is lost, at most. */
export const nearSizesMax = 4;
/** Packets that a fit sends in one direction, at most. */
export const fitPacketsMax = 12;
/** A size counts as lost after this many packets: MAX_PROBES of RFC 8899, section 5.1.2. */
export const triesPerSize = 3;
/** IPv4 header (RFC 791) and ICMP header (RFC 792). */
export const pingHeaderBytesV4 = 28;
/** IPv6 header (RFC 8200) and ICMPv6 header (RFC 4443). */
export const pingHeaderBytesV6 = 48;
