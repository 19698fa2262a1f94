import type { ChangeRemark, StateCost } from './types.ts';

/** One way to make all of a segment agree: every port of it at one size. */
export interface Way {
  /** IP packet in bytes. */
  readonly bytes: number;
  /** It is the change itself. */
  readonly isChange: boolean;
  /** Settings to be made, worked out from the segment. */
  readonly steps: number;
  /** Ports and nodes that cannot follow. */
  readonly impossible: number;
  /** The first of them by name; absent: none. */
  readonly firstImpossible?: Pick<ChangeRemark, 'on' | 'what'>;
  /** The state before it, measured by what is then declared; absent where `worst` is. */
  readonly start?: StateCost;
  /**
   * Worst state of its best order; absent: no step, too many to order them beside the change, or
   * they wait for each other in a circle.
   */
  readonly worst?: StateCost;
  /** Steps that take a link down for a moment. */
  readonly bounces: number;
  /** Nodes that restart, each counted once. */
  readonly restarts: number;
}

/** What a line carries in full packets of one size. */
export interface PathCeiling {
  /** IP packet in bytes: the smallest of the segments that the path goes over. */
  readonly packetBytes: number;
  /** Most TCP user data, in Mb/s (10^6 bit/s): IPv4 with timestamps, untagged. */
  readonly goodputMbps: number;
  /** Whole packets a second at line rate. */
  readonly packetsPerSecond: number;
}

/** What both ways give one pair of ends. */
export interface PathCeilings {
  /** Lowest speed that is known on the path; a hop of which none is known may be slower still. */
  readonly slowestMbps: number;
  readonly larger: PathCeiling;
  readonly smaller: PathCeiling;
  /** Goodput at the larger size above that at the smaller one, in per cent of the latter. */
  readonly gainPercent: number;
}

/** What both ways give one pair of ends; or why that is not known. */
export interface PathWays {
  /** `SitePath.id`. */
  readonly id: string;
  /** Absent: not known. */
  readonly ceilings?: PathCeilings;
  /** Why there are no ceilings. */
  readonly gap?: string;
}

/** The two ways to make all of one segment agree. */
export interface SegmentWays {
  readonly segment: string;
  readonly larger: Way;
  readonly smaller: Way;
  /** Ports and nodes in it that could not be read: either way may ask for more there. */
  readonly unread: readonly string[];
  /** Of every pair of ends that is declared over it, in the order of the site. */
  readonly paths: readonly PathWays[];
}
