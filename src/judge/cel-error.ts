import { cleanText } from '../facts/clean-text.ts';

/** What is wrong in an expression, from `start` to `end` of its text. */
export interface ExpressionFault {
  readonly start: number;
  readonly end: number;
  readonly what: string;
  readonly remedy: string;
}

interface CelError {
  readonly code?: string;
  readonly summary?: string;
  readonly range?: { readonly start: number; readonly end: number };
}

type Wording = Pick<ExpressionFault, 'what' | 'remedy'>;

const syntax: Wording = {
  what: 'not an expression of CEL',
  remedy: 'see cel.dev: names, numbers, "texts", &&, ||, !, ==, <, in',
};
const quotes: Wording = { what: 'the quoted text does not end', remedy: 'close the quotes' };
const types = 'compare a fact with a value of its own type; `hopgauge rules --facts` lists them';

// By the library's code, since its own sentences name the wrong character at times.
const wordings: Readonly<Record<string, (summary: string) => Wording>> = {
  unexpected_token: () => syntax,
  unexpected_character: () => syntax,
  expected_token: () => syntax,
  parse_error: () => syntax,
  invalid_macro_argument: () => ({
    what: 'the first argument names the item',
    remedy: 'write it as `list.all(item, item > 0)`',
  }),
  unterminated_string: () => quotes,
  unterminated_triple_quoted_string: () => quotes,
  newline_in_string: () => quotes,
  invalid_number: () => ({ what: 'not a number', remedy: 'write it as 9000 or 2.5' }),
  invalid_exponent: () => ({ what: 'not a number', remedy: 'write it as 9000 or 2.5' }),
  limit_exceeded: () => ({
    what: 'too large an expression',
    remedy: 'split it into several rules',
  }),
  reserved_identifier: () => ({ what: 'a word that CEL reserves', remedy: 'use another name' }),
  no_such_overload: (summary) => ({
    what: `types do not go together: ${summary.replace(/^no such overload: /, '')}`,
    remedy: types,
  }),
  no_matching_overload: (summary) => ({
    what: `no such function for these types: ${/'(.*)'/.exec(summary)?.[1] ?? ''}`,
    remedy: types,
  }),
  invalid_logical_operand: () => ({
    what: '&&, || and ! take conditions only',
    remedy: 'compare the fact with a value',
  }),
  incompatible_ternary_branches: () => ({
    what: 'both branches of ?: must have one type',
    remedy: 'a number beside a fact is written with a point: 0.0',
  }),
  heterogeneous_list_element: () => ({
    what: 'the items of a list must have one type',
    remedy: 'write all numbers with a point, or none',
  }),
};

/** Words what the CEL library found, by its code and range; never its own message. */
export function wordCelError(error: unknown, text: string): ExpressionFault {
  const { code = '', summary = '', range } = celError(error);
  const fallback: Wording = {
    what: cleanText(summary.toLowerCase(), 120) || syntax.what,
    remedy: syntax.remedy,
  };
  const wording = wordings[code]?.(cleanText(summary, 120)) ?? fallback;
  const start = Math.min(range?.start ?? 0, text.length);
  return { start, end: Math.max(start, range?.end ?? text.length), ...wording };
}

// The parser may also fail with a plain error; its text is of no use to an operator.
function celError(error: unknown): CelError {
  if (!(error instanceof Error) || !('code' in error)) return {};
  return error as CelError;
}
