import type { HeaderStack } from '../ethernet/goodput.ts';
import type { HostBus } from '../ethernet/host-bus.ts';

/** How a line and a packet that fit a figure stand to what was given. */
export const linkRoles = [
  'as-given',
  'smaller-packet',
  'one-member',
  'lower-rate',
  'some-link',
  'higher-rate',
  'larger-packet',
] as const;
/** What a fitting rate and packet are, beside what was given. */
export type LinkRole = (typeof linkRoles)[number];

/** A line at one rate, whose smallest hop passes one packet. */
export interface LinkExplanation {
  readonly kind: 'link';
  readonly role: LinkRole;
  readonly rateMbps: number;
  readonly packetBytes: number;
  readonly stack: HeaderStack;
  /** Other headers with which the figure fits as well. */
  readonly alsoStacks: readonly HeaderStack[];
  readonly expectedMbps: number;
  /** Measured over expected, less 1. */
  readonly offShare: number;
  /** Packets in bytes that fit this figure at this rate. Absent above: any larger one fits. */
  readonly packetBytesLeast: number;
  readonly packetBytesMost?: number;
}

/** A window that waits for its acknowledgements. */
export interface WindowExplanation {
  readonly kind: 'window';
  readonly windowBytes: number;
  readonly rttMs: number;
  /** The round trip was given; else it is the one that would explain the figure. */
  readonly rttGiven: boolean;
  readonly expectedMbps: number;
  readonly offShare: number;
}

/** What joins the adapter to its computer. */
export interface BusExplanation {
  readonly kind: 'usb-2' | 'bus';
  /** All of these carry the figure at most. */
  readonly buses: readonly HostBus[];
  readonly leastMbps: number;
  readonly mostMbps: number;
  /** The port that they were compared with. */
  readonly portMbps: number;
}

/** One thing that explains a figure. */
export type Explanation = LinkExplanation | WindowExplanation | BusExplanation;

/** What is known of the path beside the figure. */
export interface FigureGiven {
  /** Absent: any Ethernet rate. */
  readonly rateMbps?: number;
  /** Absent: 1500 or 9000. */
  readonly packetBytes?: number;
  readonly stack: HeaderStack;
  readonly rttMs?: number;
}
