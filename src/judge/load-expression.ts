import type { SubjectKind } from '../facts/dictionary.ts';
import type { Subject } from '../facts/subject.ts';
import type { CelEnvironment } from './cel-environment.ts';
import type { ExpressionFault } from './cel-error.ts';
import { compileTerm } from './compile-term.ts';
import { explainTerm, type Trace } from './explain-term.ts';
import { inspectExpression } from './inspect-expression.ts';
import { lowerExpression } from './lower-expression.ts';
import type { Read } from './term.ts';

/** An expression that was checked against the dictionary, ready to be asked. */
export interface Expression {
  /** As written. */
  readonly text: string;
  /** CEL type of its value. */
  readonly type: string;
  /** Facts that it may read, without their subject, in order of mention. */
  readonly facts: readonly string[];
  /** Its value; undefined: undetermined. */
  readonly test: Read;
  /** Its value again, with the facts that it rests on. */
  readonly explain: (subject: Subject) => Trace;
}

/** A condition that can be evaluated, or why it cannot. */
export type LoadedExpression =
  | { readonly ok: true; readonly value: Expression }
  | { readonly ok: false; readonly faults: readonly ExpressionFault[] };

/** Parses, inspects, type-checks and compiles an expression over one kind of subject. */
export function loadExpression(
  text: string,
  kind: SubjectKind,
  cel: CelEnvironment,
): LoadedExpression {
  const parsed = cel.parse(text);
  if ('fault' in parsed) return { ok: false, faults: [parsed.fault] };
  const { facts, faults } = inspectExpression(parsed.ast, kind);
  if (faults.length > 0) return { ok: false, faults };
  const checked = parsed.checkTypes();
  if ('fault' in checked) return { ok: false, faults: [checked.fault] };
  const term = lowerExpression(parsed.ast);
  return {
    ok: true,
    value: {
      text,
      type: checked.type,
      facts,
      test: compileTerm(term),
      explain: (subject) => explainTerm(term, subject),
    },
  };
}

/** An expression that must be a condition: its value is true, false or undetermined. */
export function loadCondition(
  text: string,
  kind: SubjectKind,
  cel: CelEnvironment,
): LoadedExpression {
  const loaded = loadExpression(text, kind, cel);
  if (!loaded.ok || loaded.value.type === 'bool') return loaded;
  return {
    ok: false,
    faults: [
      {
        start: 0,
        end: text.length,
        what: `not a condition: its type is ${loaded.value.type}`,
        remedy: 'compare it with something',
      },
    ],
  };
}
