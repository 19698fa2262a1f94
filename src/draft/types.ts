import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type { Access } from '../intent/types.ts';

/** One node that was read, or that would not be, and how one gets to it. */
export interface DraftSubject {
  readonly survey: NodeSurvey;
  /** As it is to be written: host name or address, with a port where one was given. */
  readonly at?: string;
  readonly access: readonly Access[];
  /** The name it must have, as an intent or a saved survey has it; absent: its own is taken. */
  readonly name?: string;
}

/** A node that was read, by the name that the draft gives it. */
export interface Machine {
  readonly name: string;
  readonly at?: string;
  readonly access: readonly Access[];
  readonly survey: NodeSurvey;
  /** Read as an agent only: the intent then takes it for a switch. */
  readonly isSwitch: boolean;
  readonly ports: ReadonlyMap<string, PortSurvey>;
  /** Ports that are built on a port, by its name. */
  readonly uppers: ReadonlyMap<string, readonly string[]>;
}

/** A port of a machine. */
export interface End {
  readonly machine: Machine;
  readonly port: PortSurvey;
}

/** Two ports that were found to be joined. */
export interface FoundLink {
  readonly ends: readonly [End, End];
  /** How it is known: `LLDP on both ends`. */
  readonly known: string;
  readonly by: 'lldp' | 'forwarding';
}

/** A node as it will be written. */
export interface DraftNode {
  readonly name: string;
  readonly at?: string;
  /** Names under `access:`; empty: the built-in `ssh`. */
  readonly access: readonly string[];
  readonly engineId?: string;
  readonly known: string;
}

/** A segment as it will be written. */
export interface DraftSegment {
  readonly name: string;
  readonly vlan?: number;
  /** IP packet; absent: it could not be told, and a question says why. */
  readonly mtuBytes?: number;
  readonly known: string;
  readonly questions: readonly string[];
}

/** A link as it will be written. */
export interface DraftLink {
  /** `node:port`, by the node's own name of the port. */
  readonly ends: readonly [string, string];
  readonly untagged?: string;
  readonly tagged: readonly string[];
  readonly speedMbps?: number;
  readonly lag?: string;
  readonly known: string;
  readonly questions: readonly string[];
}

/** A path as it will be written. */
export interface DraftPath {
  readonly name: string;
  readonly from: string;
  readonly to: string;
  readonly over: string;
  readonly known: string;
}

/** A first intent, before it is text. */
export interface Draft {
  readonly site: string;
  /** ISO 8601 time of the reading that it is made from. */
  readonly readAt: string;
  readonly access: readonly Access[];
  readonly nodes: readonly DraftNode[];
  readonly segments: readonly DraftSegment[];
  readonly links: readonly DraftLink[];
  readonly paths: readonly DraftPath[];
  /** Who could not be read, why, and what to do, one line each; `questions` has them too. */
  readonly notRead: readonly string[];
  /** What the reading leaves open, one line each. */
  readonly questions: readonly string[];
  readonly counts: DraftCounts;
}

/** What the summary tells. */
export interface DraftCounts {
  readonly read: number;
  readonly linksByLldp: number;
  readonly linksByForwarding: number;
}
