import type { Proofs } from '../facts/proof.ts';
import type { Change, KnownNode } from './known-node.ts';
import type { OpenFinding } from './settle-findings.ts';
import type { Silence } from './silences.ts';

/** Everything that one audit adds to the history. */
export interface Night {
  readonly site: string;
  /** ISO 8601 UTC. */
  readonly startedAt: string;
  readonly endedAt: string;
  /** All nodes gave an answer, those that may be absent aside. */
  readonly complete: boolean;
  readonly tally: {
    readonly met: number;
    readonly broken: number;
    readonly undetermined: number;
    readonly waived: number;
  };
  readonly nodesRead: number;
  readonly nodesAsked: number;
  /** Findings and changes that were told. */
  readonly told: number;
  /** Nodes that were read, as they are known from now on. */
  readonly known: readonly KnownNode[];
  readonly changes: readonly Change[];
  readonly growths: readonly Growth[];
  /** All that was read before and is silent tonight, of the nodes that were asked. */
  readonly silences: readonly Silence[];
  /** Findings open after this night. */
  readonly open: readonly OpenFinding[];
  /** Waivers in force that no subject needed, and those that were needed. */
  readonly waivers: readonly WaiverUse[];
  /** What active tests have shown; absent: nothing. */
  readonly proofs?: Proofs;
}

/** Errors that a port counted since the night before; only what is more than none. */
export interface Growth {
  readonly node: string;
  readonly port: string;
  readonly fact: string;
  readonly added: number;
}

/** A waiver with the nights in a row on which its rule was met. */
export interface WaiverUse {
  readonly rule: string;
  readonly on: string;
  readonly metNights: number;
}

/** What is known from the nights before. */
export interface Past {
  /** Of every node that was ever read, by name. */
  readonly known: ReadonlyMap<string, KnownNode>;
  readonly open: readonly OpenFinding[];
  readonly waivers: readonly WaiverUse[];
  /** Start of the audit before; absent: there was none. */
  readonly lastAt?: string;
  /** End of the last audit that was complete; absent: none was. */
  readonly lastCompleteAt?: string;
}
