import type { Gap } from '../facts/gap.ts';
import type { Subject } from '../facts/subject.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type {
  DeclaredLink,
  DeclaredNode,
  DeclaredPath,
  DeclaredSegment,
  Intent,
  RunPiece,
} from '../intent/types.ts';

/** Intent and survey joined: what rules judge and reports draw. Plain data. */
export interface Site {
  readonly intent: Intent;
  readonly nodes: readonly SiteNode[];
  readonly ports: readonly SitePort[];
  readonly links: readonly SiteLink[];
  readonly segments: readonly SiteSegment[];
  readonly paths: readonly SitePath[];
  readonly directions: readonly SiteDirection[];
}

/** A declared node with what was read of it. */
export interface SiteNode {
  readonly declared: DeclaredNode;
  /** Absent: not in the survey. */
  readonly survey?: NodeSurvey;
  readonly subject: Subject;
}

/** A port that is judged: the end of a link, or a layer or address that a path stands on. */
export interface SitePort {
  /** `node:port`, with the alias of the intent where there is one. */
  readonly id: string;
  readonly node: string;
  /** Absent: declared and not found. */
  readonly survey?: PortSurvey;
  readonly subject: Subject;
}

/** A declared link with its two ports. */
export interface SiteLink {
  readonly declared: DeclaredLink;
  readonly ends: readonly [SitePort, SitePort];
  readonly subject: Subject;
}

/** A declared segment with the interfaces addressed in it. */
export interface SiteSegment {
  readonly declared: DeclaredSegment;
  readonly addressed: readonly SitePort[];
  readonly subject: Subject;
}

/** What one hop of a path passes. */
export interface HopClearance {
  /** IP packet in bytes that passes for certain; absent: not known. */
  readonly atLeastBytes?: number;
  /** IP packet in bytes beyond which nothing passes; absent: not known. */
  readonly atMostBytes?: number;
  /** Why it is not known. */
  readonly gap?: Gap;
  /** Known from the intent alone: an unread node. */
  readonly onWord: boolean;
  /** What tells it, where that is no reading of the port itself. */
  readonly source?: string;
}

/** A port that a path may cross, in drawing order. */
export interface Hop {
  readonly port: SitePort;
  readonly clearance: HopClearance;
  readonly speedMbps?: number;
  readonly duplex?: string;
  /** Where on the path: at the sending or the receiving end, on a switch, or on a router. */
  readonly position: 'from' | 'to' | 'switch' | 'router';
  /** Links from the node before it: how many away from `from`. Alternatives share a number. */
  readonly distance: number;
  /** Pieces of the run between this hop and the next one drawn; empty inside a node. */
  readonly runToNext: readonly RunPiece[];
  readonly linkId?: string;
  readonly narrowest: boolean;
  readonly slowest: boolean;
  /** A layer (VLAN, bridge, bond) above a port of this node, not a port of a link. */
  readonly layer: boolean;
  /**
   * Whether traffic uses this hop now, where spanning tree, LACP or routes tell; absent: not
   * known.
   */
  readonly inUse?: boolean;
  /** What keeps it out of use; absent where that is not known, or nothing does. */
  readonly idleBecause?: 'spanning-tree' | 'lacp';
  /** Packets of the end `from` come in by it, or go out by it; absent where both may be. */
  readonly way?: 'in' | 'out';
}

/** One pair of ends of a declared path. */
export interface SitePath {
  /** The path's name; `name (from to to)` where it has several pairs. */
  readonly id: string;
  readonly declared: DeclaredPath;
  readonly from: string;
  readonly to: string;
  readonly hops: readonly Hop[];
  readonly subject: Subject;
}

/** One direction of a path. */
export interface SiteDirection {
  readonly id: string;
  readonly path: string;
  readonly from: string;
  readonly to: string;
  readonly subject: Subject;
}
