import type { SubjectKind } from '../facts/dictionary.ts';
import type { Place } from '../facts/subject.ts';
import type { Expression } from './load-expression.ts';
import type { Template } from './load-template.ts';
import type { Severity } from './types.ts';

/** A rule that was loaded and checked: it judges one kind of subject. */
export interface Rule {
  readonly rule: string;
  readonly policy: string;
  readonly judges: SubjectKind;
  /** Absent: the rule applies to every subject of its kind. */
  readonly when?: Expression;
  readonly holds: Expression;
  readonly severity: Severity;
  /** Nights in a row that must have a finding of it before it is news; absent: one. */
  readonly nights?: number;
  /** True: bad enough for one night to be news. Only with `nights`. */
  readonly beyondDoubt?: Expression;
  readonly says: Template;
  readonly advice?: Template;
  /** Absent: each subject is a cause of its own. */
  readonly cause?: Template;
  readonly source: string;
  /** Where the rule's name stands. */
  readonly place: Place;
  /** All facts that its conditions and texts may read, without their subject. */
  readonly facts: readonly string[];
}

/** A file of rules that was loaded and checked. */
export interface Policy {
  readonly policy: string;
  readonly about: string;
  readonly file: string;
  readonly rules: readonly Rule[];
}
