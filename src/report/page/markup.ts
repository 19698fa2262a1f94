import { cleanText } from '../../facts/clean-text.ts';

/** Markup that was put together by `markup`, so that all text in it is escaped. */
export class Markup {
  /** Finished, to be written as it is. */
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

/** What may stand in a template: text is cleaned and escaped, markup is taken as it is. */
export type Fill = string | number | Markup | readonly Fill[] | undefined;

/** Longest text of one fill, in UTF-16 units. */
const fillLengthMax = 2000;

/**
 * HTML or SVG from a template. Every fill is text unless it is markup itself: `&`, `<`, `>` and both
 * quotes become references, so that it is safe as content and as a quoted attribute value (HTML
 * Living Standard, 13.3 escaping a string); control and bidirectional characters become blanks.
 */
export function markup(parts: TemplateStringsArray, ...fills: readonly Fill[]): Markup {
  const text = parts
    .map((part, at) => part + (at < fills.length ? filled(fills[at]) : ''))
    .join('');
  return new Markup(text);
}

function filled(fill: Fill): string {
  if (fill === undefined) return '';
  if (fill instanceof Markup) return fill.text;
  if (typeof fill === 'number') return String(fill);
  return typeof fill === 'string' ? escaped(fill) : fill.map(filled).join('');
}

/** Pieces in a row with `mark` between any two, which is a text of ours and stays as it is. */
export function joined(pieces: readonly Markup[], mark: string): Markup {
  return new Markup(pieces.map(({ text }) => text).join(mark));
}

const references: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Printable ASCII without what is escaped and without two blanks in a row: most of any page. */
const plain = /^[!#-%(-;=?-~]+(?: [!#-%(-;=?-~]+)*$/;
const plainLengthMax = 200;

function escaped(text: string): string {
  if (text.length <= plainLengthMax && plain.test(text)) return text;
  return cleanText(text, fillLengthMax).replace(/[&<>"']/g, (found) => references[found] ?? found);
}
