import type { Silence } from './silences.ts';
import type { ChangedEvent, GrownEvent, KeptAudit } from './timeline.ts';

/** What the history has of the latest nights of a site, as far as a page draws it. */
export interface SitePast {
  readonly site: string;
  /** By time, the latest last; empty: never audited. */
  readonly nights: readonly KeptAudit[];
  /** Charted facts of ports, and ports that came and went, by time. */
  readonly changes: readonly SeenChange[];
  readonly growths: readonly SeenGrowth[];
  readonly silences: readonly EndedSilence[];
  /** The latest last. */
  readonly lives: readonly FindingLife[];
  /** What was left out, since there was more than one reading takes. */
  readonly cut: PastCut;
}

/** A change of a port of which the first night is known. */
export interface SeenChange extends ChangedEvent {
  readonly port: string;
  readonly firstSeen: string;
}

/** Errors that a port counted, of which the first night is known. */
export interface SeenGrowth extends GrownEvent {
  readonly firstSeen: string;
}

/** A silence; `endedAt`: start of the audit that read it again, absent while it lasts. */
export interface EndedSilence extends Silence {
  readonly endedAt?: string;
}

/** One life of a finding, from the first audit that had it until it cleared. */
export interface FindingLife {
  /** Of the finding; one that came back has several lives. */
  readonly id: string;
  readonly policy: string;
  readonly rule: string;
  readonly subject: { readonly kind: string; readonly id: string };
  readonly severity: string;
  readonly verdict: string;
  /** Absent: hidden from the reader, since it may name what no list of names has any more. */
  readonly what?: string;
  readonly cause: string;
  /** Start of the first and of the last audit that had it, ISO 8601 UTC. */
  readonly since: string;
  readonly lastAt: string;
  /** Nights in a row that had it. */
  readonly nights: number;
  /** Start of the audit that told it; absent: it waits for a further night. */
  readonly toldAt?: string;
  /** Start of the first audit that no longer had it; absent: it is open. */
  readonly clearedAt?: string;
}

/** Each is the start of the first audit from which on everything is there; absent: nothing was cut. */
export interface PastCut {
  readonly nights?: string;
  readonly changes?: string;
  readonly growths?: string;
  readonly silences?: string;
  readonly lives?: string;
}
