import type { FactValue } from '../facts/entry.ts';
import type { FitProof, TransferProof } from '../facts/proof.ts';

/** One audit that the history has. */
export interface KeptAudit {
  readonly startedAt: string;
  readonly endedAt: string;
  /** All nodes gave an answer, those that may be absent aside. */
  readonly complete: boolean;
  readonly met: number;
  readonly broken: number;
  readonly undetermined: number;
  readonly waived: number;
  readonly nodesRead: number;
  readonly nodesAsked: number;
  /** Findings that were new, worsened or cleared. */
  readonly told: number;
}

/** Something that happened to a node or port, as the audit that saw it first tells. */
export type TimelineEvent = ChangedEvent | GrownEvent | FindingEvent | ProofEvent;

interface At {
  /** Start of the audit, ISO 8601 UTC. */
  readonly at: string;
}

/** A fact got another value; `name` of a port that was renamed, `present` of one that came or went. */
export interface ChangedEvent extends At {
  readonly kind: 'changed';
  readonly node: string;
  /** Absent: the node itself. */
  readonly port?: string;
  readonly fact: string;
  readonly was: FactValue;
  readonly is: FactValue;
  /** When the old value was last read. */
  readonly seenAt: string;
  readonly why?: string;
}

/** A counter of errors grew. */
export interface GrownEvent extends At {
  readonly kind: 'grown';
  readonly node: string;
  readonly port: string;
  readonly fact: string;
  readonly added: number;
}

/** A finding was told for the first time, or cleared. */
export interface FindingEvent extends At {
  readonly kind: 'found' | 'cleared';
  readonly id: string;
  readonly rule: string;
  readonly subject: string;
  /** `port`, `path` and so on. */
  readonly subjectKind: string;
  readonly severity: string;
  readonly verdict: string;
  readonly what: string;
  /** The one thing behind it, which others may share. */
  readonly cause: string;
  /** Start of the first audit that had it. */
  readonly since: string;
}

/** What an active test has shown of a direction; `at` is when it showed it first. */
export type ProofEvent = At & {
  /** When it showed the same last. */
  readonly lastAt: string;
} & (
    | { readonly kind: 'proven'; readonly fit: FitProof }
    | { readonly kind: 'measured'; readonly transfer: TransferProof }
  );

/** What the history knows of a target, or of a whole site. */
export interface Timeline {
  /** Start of the first audit that saw it; absent: never seen. */
  readonly firstSeen?: string;
  /** By time, then in the order in which they were written. */
  readonly events: readonly TimelineEvent[];
  /** There were more; the latest are kept. */
  readonly truncated: boolean;
}

/** What a timeline is wanted of. */
export interface TimelineScope {
  readonly site: string;
  /** Absent: the whole site. */
  readonly node?: string;
  /** Names of ports of the node; absent: the node and all its ports. */
  readonly ports?: readonly string[];
  /** Subjects of findings, or ids of findings; absent: all of the site. */
  readonly subjects?: readonly string[];
  /** Directions whose active tests are wanted; absent: all of the site. */
  readonly ways?: readonly { readonly from: string; readonly to: string }[];
  /** Only what is of or after this time, ISO 8601. */
  readonly since?: string;
}
