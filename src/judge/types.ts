import type { SubjectKind } from '../facts/dictionary.ts';
import type { FactValue } from '../facts/entry.ts';
import type { Gap } from '../facts/gap.ts';
import type { Place } from '../facts/subject.ts';

/** What a rule can come to on a subject. */
export const verdicts = ['met', 'broken', 'undetermined', 'waived'] as const;
/** What a rule came to on a subject. */
export type Verdict = (typeof verdicts)[number];

/** RFC 5424 words, most severe first. */
export const severities = ['error', 'warning', 'notice'] as const;
/** How much a finding matters. */
export type Severity = (typeof severities)[number];

/** One fact that a verdict rests on. */
export interface Evidence {
  /** As in the dictionary, with its subject kind: `port.mtuBytes`. */
  readonly fact: string;
  readonly value?: FactValue;
  /** Why there is no value. Exactly one of `value` and `gap` is there. */
  readonly gap?: Gap;
  readonly unit?: string;
  readonly source?: string;
}

/** A verdict that is not `met`. */
export interface Finding {
  /** Stable from night to night: made of rule and subject alone. Ten hexadecimal digits. */
  readonly id: string;
  readonly policy: string;
  readonly rule: string;
  readonly severity: Severity;
  readonly verdict: 'broken' | 'undetermined' | 'waived';
  /** The verdict beneath a waiver. */
  readonly beneath?: 'broken' | 'undetermined';
  readonly waiver?: { readonly until: string; readonly because: string; readonly place: Place };
  readonly subject: { readonly kind: SubjectKind; readonly id: string };
  /** Findings with an equal cause are one to the reader. */
  readonly cause: string;
  /** What is wrong, in one line. */
  readonly what: string;
  readonly evidence: readonly Evidence[];
  readonly advice?: string;
  /** Where the intent declares the subject. */
  readonly declaredAt?: Place;
  /** Standard or `common practice` behind the rule. */
  readonly source: string;
  /** Nights in a row that must have it before it is news; absent: one. */
  readonly nights?: number;
  /** So bad that one night is enough for a rule that asks for more. */
  readonly beyondDoubt?: boolean;
}

/** A rule that could not be evaluated on a subject: a fault of the rule, not of the network. */
export interface RuleFault {
  readonly policy: string;
  readonly rule: string;
  readonly subject: string;
  readonly what: string;
  readonly place: Place;
}

/** The outcome of judging a site. */
export interface Judgement {
  /** Most severe first, then broken before undetermined, then by subject and rule. */
  readonly findings: readonly Finding[];
  readonly faults: readonly RuleFault[];
  readonly tally: {
    readonly met: number;
    readonly broken: number;
    readonly undetermined: number;
    readonly waived: number;
    /** Rule and subject pairs to which the rule's `when` did not apply. */
    readonly notApplicable: number;
    /**
     * Pairs that wait only for a node that is declared to sleep or to be absent at times and gave
     * no answer: no findings.
     */
    readonly excused?: number;
  };
  /** On how many subjects each rule was met, where on any; absent: not counted by rule. */
  readonly metByRule?: readonly {
    readonly policy: string;
    readonly rule: string;
    readonly met: number;
  }[];
  /** Waivers past their date, or that match no rule and subject. */
  readonly waiversExpired: readonly Place[];
  /** Waivers in force of which the rule was met on every subject that they name. */
  readonly waiversMet: readonly Place[];
  /** What came of the watched pairs that are no findings, by the id that a finding would have. */
  readonly watched: ReadonlyMap<string, WatchedVerdict>;
}

/** A pair of rule and subject of which the outcome is wanted although it may be no finding. */
export interface WatchedPair {
  readonly id: string;
  readonly rule: string;
  readonly subject: Finding['subject'];
}

/**
 * `met`; `notApplicable` where the rule's `when` is false; `excused` where it waits for a node that
 * may be absent and is.
 */
export type WatchedVerdict = 'met' | 'notApplicable' | 'excused';
