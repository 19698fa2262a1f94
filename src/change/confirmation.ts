import type { Change } from '../drift/known-node.ts';
import type { Growth } from '../drift/night.ts';
import type { FactValue } from '../facts/entry.ts';
import type { Finding } from '../judge/types.ts';
import type { PathState } from './foretell.ts';
import type { StepSetting } from './types.ts';

/** What became of a step: `not-done` is as it was before, `other` neither that nor as asked for. */
export const stepVerdicts = ['done', 'not-done', 'other', 'cannot-tell'] as const;

/** What became of one step of a change. */
export interface StepOutcome {
  /** From 1, in the order that was rehearsed. */
  readonly number: number;
  readonly id: string;
  /** `node:port`, or the node where the whole of it is set. */
  readonly on: string;
  readonly node: string;
  readonly setting: StepSetting;
  /** As it was read before the change; absent: not known. */
  readonly from?: FactValue;
  readonly to: FactValue;
  readonly verdict: (typeof stepVerdicts)[number];
  /** It was to be done by now. */
  readonly expected: boolean;
  /** Done, although its turn comes later. */
  readonly ahead: boolean;
  /** What was read, where it is one value; absent for a whole node and for what was not read. */
  readonly is?: FactValue;
  /** Why it cannot be told, or what was seen where that is no single value. */
  readonly why?: string;
  /** What a person can look at by hand, where it cannot be told. */
  readonly look?: string;
}

/** A value that follows from steps on other ports, and is not, or cannot be seen to be, as foretold. */
export interface FollowerOutcome {
  /** `node:port` */
  readonly on: string;
  readonly node: string;
  /** The node's own name of the port. */
  readonly portName: string;
  readonly fact: string;
  readonly foretold: FactValue;
  /** Absent: it could not be read, and `why` says so. */
  readonly is?: FactValue;
  readonly why?: string;
}

/**
 * What became of a path: `less` carries less than foretold, `more` more. `never-known` was neither
 * known before nor foretold, and the change does not touch it.
 */
export const pathVerdicts = ['as-foretold', 'less', 'more', 'cannot-tell', 'never-known'] as const;

/** What a path was foretold to pass against what it passes; both ways. */
export interface PathOutcome {
  /** `SitePath.id` */
  readonly id: string;
  readonly verdict: (typeof pathVerdicts)[number];
  readonly foretold: PathState;
  readonly found: PathState;
  /** Why it cannot be told, where that is not what was read. */
  readonly why?: string;
}

/** One direction of a path that was foretold to be well and is not, or cannot be seen to be. */
export interface WayOutcome {
  /** `SiteDirection.id` */
  readonly id: string;
  /** `routed-whole`: every router passes the sender's packet; `leaves`: by a declared port. */
  readonly what: 'routed-whole' | 'leaves';
  readonly verdict: 'less' | 'cannot-tell';
}

/** A finding without its evidence. */
export interface ConfirmedFinding
  extends Pick<Finding, 'id' | 'policy' | 'rule' | 'severity' | 'subject' | 'cause' | 'what'> {
  /** What was foretold to be wrong there, where that is something else; absent: nothing was. */
  readonly foretold?: string;
}

/** What the rules come to now, against before the change and what was foretold. */
export interface FindingOutcomes {
  /** Broken before, and now met or waived. */
  readonly mended: readonly ConfirmedFinding[];
  /** Foretold to be mended, and still broken. */
  readonly notMended: readonly ConfirmedFinding[];
  /** Broken now and not before, and not foretold, or foretold otherwise. */
  readonly broken: readonly ConfirmedFinding[];
  /** Broken now and not before, as foretold, if perhaps by something else, which `foretold` says. */
  readonly brokenAsForetold: readonly ConfirmedFinding[];
  /** Cannot be told now, and could before or was foretold to be. */
  readonly unknown: readonly ConfirmedFinding[];
}

/** A node that could not be read now. */
export interface UnreadNode {
  readonly node: string;
  readonly words: string;
  /** It was read for the rehearsal. */
  readonly readBefore: boolean;
  /** It is declared to sleep, or to be away at times. */
  readonly mayBeAbsent: boolean;
}

/** A node of which counters began again: errors since the rehearsal are not known. */
export interface UncountedNode {
  readonly node: string;
  /** A step on it restarts it or takes a link down, as some drivers then begin to count again. */
  readonly byChange: boolean;
}

/** What else is not as it was when the change was rehearsed. */
export interface MovedSince {
  /** Without what the steps explain. */
  readonly moved: readonly Change[];
  /** Errors that were counted since. */
  readonly errors: readonly Growth[];
  /** Links that went down, next to a step that takes them down for a moment. */
  readonly bounces: readonly Growth[];
  readonly unread: readonly UnreadNode[];
  readonly uncounted: readonly UncountedNode[];
}

/** What came true of a rehearsed change. Plain data. */
export interface Confirmation extends MovedSince {
  readonly confirmation: 1;
  readonly site: string;
  readonly about?: string;
  /** The change as it was named when it was rehearsed. */
  readonly change: string;
  /** ISO 8601 UTC, as all times here. */
  readonly rehearsedAt: string;
  /** End of the survey that it was rehearsed on. */
  readonly beforeAt: string;
  /** End of the survey that it is confirmed on. */
  readonly readAt: string;
  /** Number of the last step that was to be done by now; 0: the change has none. */
  readonly upTo: number;
  readonly steps: readonly StepOutcome[];
  readonly followers: readonly FollowerOutcome[];
  readonly paths: readonly PathOutcome[];
  readonly ways: readonly WayOutcome[];
  readonly findings: FindingOutcomes;
}
