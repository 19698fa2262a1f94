import type { ExpressionFault } from './cel-error.ts';

/** Literal text of a template, or the text of an expression and where it starts. */
export type TemplatePart =
  | { readonly literal: string }
  | { readonly expression: string; readonly start: number };

/** The fixed parts of a template and the expressions between them. */
export interface SplitTemplate {
  readonly parts: readonly TemplatePart[];
  readonly faults: readonly ExpressionFault[];
}

/**
 * Splits `says at most {path.mtuAtMostBytes} bytes` at its expressions. Braces inside quotes
 * belong to the expression; `{{` and `}}` are literal braces.
 */
export function splitTemplate(text: string): SplitTemplate {
  const parts: TemplatePart[] = [];
  const faults: ExpressionFault[] = [];
  let literal = '';
  let at = 0;
  while (at < text.length) {
    const two = text.slice(at, at + 2);
    if (two === '{{' || two === '}}') {
      literal += two.charAt(0);
      at += 2;
    } else if (two.startsWith('{')) {
      const end = endOfExpression(text, at + 1);
      if (literal !== '') parts.push({ literal });
      literal = '';
      if (end === undefined) {
        faults.push(
          fault(at, text.length, '`{` without `}`', 'close it, or write `{{` for a brace'),
        );
        break;
      }
      parts.push({ expression: text.slice(at + 1, end), start: at + 1 });
      at = end + 1;
    } else if (two.startsWith('}')) {
      faults.push(fault(at, at + 1, '`}` without `{`', 'write `}}` for a brace'));
      at += 1;
    } else {
      literal += text.charAt(at);
      at += 1;
    }
  }
  if (literal !== '') parts.push({ literal });
  return { parts, faults };
}

function fault(start: number, end: number, what: string, remedy: string): ExpressionFault {
  return { start, end, what, remedy };
}

// A quoted text may hold the brace that would end the expression, and escaped quotes.
const untilBrace = /(?:[^"'{}]|"(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*')*/y;

function endOfExpression(text: string, start: number): number | undefined {
  untilBrace.lastIndex = start;
  untilBrace.exec(text);
  const end = untilBrace.lastIndex;
  return text.charAt(end) === '}' ? end : undefined;
}
