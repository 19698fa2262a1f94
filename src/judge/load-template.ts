import { cleanText } from '../facts/clean-text.ts';
import type { SubjectKind } from '../facts/dictionary.ts';
import type { Subject } from '../facts/subject.ts';
import type { CelEnvironment } from './cel-environment.ts';
import type { ExpressionFault } from './cel-error.ts';
import { type Expression, loadExpression } from './load-expression.ts';
import { printValue } from './print-value.ts';
import { splitTemplate } from './split-template.ts';
import type { Value } from './term.ts';

/** Longest text that a template may become, in UTF-16 units. */
export const renderedLengthMax = 2000;
/** Stands for a value that is not known. */
export const unknownText = '(unknown)';

/** A text with its values in place. */
export interface Rendered {
  readonly text: string;
  /** False when a part was not known. */
  readonly complete: boolean;
}

/** A text with values of a subject in it. */
export interface Template {
  /** As written. */
  readonly text: string;
  readonly facts: readonly string[];
  /** One line, safe to print. Never fails: what is not known prints as `(unknown)`. */
  readonly render: (subject: Subject) => Rendered;
}

/** A template that can be rendered, or why it cannot. */
export type LoadedTemplate =
  | { readonly ok: true; readonly value: Template }
  | { readonly ok: false; readonly faults: readonly ExpressionFault[] };

const printable = ['string', 'double', 'int', 'bool'].flatMap((type) => [type, `list<${type}>`]);

/** Loads a template; each `{...}` is checked like a condition, with its place in the text. */
export function loadTemplate(text: string, kind: SubjectKind, cel: CelEnvironment): LoadedTemplate {
  const { parts, faults } = splitTemplate(text);
  const found: ExpressionFault[] = [...faults];
  const pieces: (string | Expression)[] = [];
  for (const part of parts) {
    if ('literal' in part) {
      pieces.push(part.literal);
      continue;
    }
    const loaded = loadPrintable(part.expression, kind, cel);
    if (loaded.ok) pieces.push(loaded.value);
    else found.push(...loaded.faults.map((fault) => shift(fault, part.start)));
  }
  if (found.length > 0) return { ok: false, faults: found };
  return { ok: true, value: { text, facts: factsOf(pieces), render: (s) => render(pieces, s) } };
}

function loadPrintable(
  text: string,
  kind: SubjectKind,
  cel: CelEnvironment,
): ReturnType<typeof loadExpression> {
  const loaded = loadExpression(text, kind, cel);
  if (!loaded.ok || printable.includes(loaded.value.type)) return loaded;
  const what = `a value of type ${loaded.value.type} cannot be printed`;
  const remedy = 'print a text, a number, a condition or a list of them';
  return { ok: false, faults: [{ start: 0, end: text.length, what, remedy }] };
}

function shift(fault: ExpressionFault, by: number): ExpressionFault {
  return { ...fault, start: fault.start + by, end: fault.end + by };
}

function factsOf(pieces: readonly (string | Expression)[]): readonly string[] {
  return [...new Set(pieces.flatMap((piece) => (typeof piece === 'string' ? [] : piece.facts)))];
}

function render(pieces: readonly (string | Expression)[], subject: Subject): Rendered {
  let text = '';
  let complete = true;
  for (const piece of pieces) {
    if (typeof piece === 'string') {
      text += piece;
      continue;
    }
    const value = known(piece, subject);
    if (value === undefined) complete = false;
    text += value === undefined ? textOfUnknown(piece, subject) : printValue(value);
  }
  return { text: cleanText(text, renderedLengthMax), complete };
}

/** What is left out where its fact was never expected is left out where it could not be read. */
function textOfUnknown(piece: Expression, subject: Subject): string {
  const { own: _, ...bare } = subject;
  const unexpected = known(piece, { ...bare, shared: { sources: {}, gaps: {} } });
  return unexpected === '' ? '' : unknownText;
}

// A text that cannot be worked out must not hide the finding that it describes.
function known(expression: Expression, subject: Subject): Value | undefined {
  try {
    return expression.test(subject);
  } catch {
    return undefined;
  }
}
