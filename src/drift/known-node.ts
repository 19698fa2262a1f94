import type { FactValue } from '../facts/entry.ts';
import type { NodeSurvey } from '../facts/survey.ts';

/** What is known of a node from all nights together. */
export interface KnownNode {
  readonly node: string;
  /** End of the audit that read it last, ISO 8601 UTC. */
  readonly seenAt: string;
  /** As it was read then. */
  readonly survey: NodeSurvey;
  /** Last values of facts that this reading lacks, in no order that matters. */
  readonly older: readonly OlderValue[];
}

/** A value that was read on an earlier night and could not be read since. */
export interface OlderValue {
  /** Absent: a fact of the node itself. */
  readonly port?: string;
  readonly fact: string;
  readonly value: FactValue;
  readonly seenAt: string;
}

/** Something that is not what it was when it was last read. */
export type Change = FactChange | PortChange;

/** A fact with another value than it had. */
export interface FactChange {
  readonly kind: 'fact';
  readonly node: string;
  /** Absent: a fact of the node itself. */
  readonly port?: string;
  readonly fact: string;
  readonly was: FactValue;
  readonly is: FactValue;
  /** When `was` was last read, ISO 8601 UTC. */
  readonly seenAt: string;
  /** What explains it, where other facts of the same night tell. */
  readonly why?: string;
}

/** A port that came, went, or has another name. */
export interface PortChange {
  readonly kind: 'port-new' | 'port-gone' | 'port-renamed';
  readonly node: string;
  readonly port: string;
  /** Its name now, of one that was renamed. */
  readonly to?: string;
  readonly seenAt: string;
  readonly why?: string;
}
