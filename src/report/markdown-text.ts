import { clean } from './layout.ts';

/**
 * Characters that mean something inside a line of CommonMark or of its common extensions; a
 * backslash before them makes them plain (CommonMark 0.31, 2.4).
 */
const marks = /[\\`*_{}[\]<>#|~&!@$^]/g;

/** Text of a file or a device inside a line or a cell of Markdown, meaning nothing in it. */
export function markdownText(text: string): string {
  return clean(text)
    .replace(marks, '\\$&')
    .replaceAll('://', '\\://')
    .replace(/www\./gi, (found) => `${found.slice(0, -1)}\\.`);
}

/** A table: a heading row and rows of cells that are Markdown already. */
export function markdownTable(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
): readonly string[] {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [line(headings), line(headings.map(() => '---')), ...rows.map(line)];
}
