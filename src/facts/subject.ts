import type { SubjectKind } from './dictionary.ts';
import type { FactValue } from './entry.ts';
import type { Gap, Gaps } from './gap.ts';

/** A place in a file of the operator's, counted from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** Where facts came from and why others are absent; shared by all ports of a reading. */
export interface Provenance {
  /** Source of a fact: command or MIB object. */
  readonly sources: Readonly<Record<string, string>>;
  /** Why a fact is absent. A fact that is neither there nor here was never expected. */
  readonly gaps: Gaps;
}

/**
 * One thing that rules judge. `facts` is a plain object whose keys are in the dictionary of its
 * kind; an absent fact has no key, or `undefined`.
 */
export interface Subject {
  readonly kind: SubjectKind;
  /** Unique within its kind and stable from night to night. */
  readonly id: string;
  readonly facts: Readonly<Record<string, FactValue | undefined>>;
  /** Exceptions of this subject; asked before `shared`. */
  readonly own?: Provenance;
  readonly shared: Provenance;
  /** Where the intent declares it; absent for what the intent does not name. */
  readonly place?: Place;
}

/** Why `name` is absent on `subject`; undefined when it is there or was never expected. */
export function gapOf(subject: Subject, name: string): Gap | undefined {
  if (subject.facts[name] !== undefined) return undefined;
  return subject.own?.gaps[name] ?? subject.shared.gaps[name];
}

/** Command or MIB object that `name` of `subject` came from; undefined when not recorded. */
export function sourceOf(subject: Subject, name: string): string | undefined {
  return subject.own?.sources[name] ?? subject.shared.sources[name];
}
