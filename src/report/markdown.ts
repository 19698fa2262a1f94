import { unsafeCharacters } from '../facts/clean-text.ts';
import { clean } from './layout.ts';

/** Signs that may start markup, HTML, an entity, a table cell or a mention anywhere in a line. */
const markup = /[\\`*_{}[\]<>#|~$&^@]/g;

/**
 * Text of a file or a device as plain text in Markdown: cleaned to one line, and all that could be
 * read as markup escaped with a backslash (CommonMark 0.31, 2.4; bare links of GitHub's extension
 * too). At the start, nothing begins a list or a rule.
 */
export function plainMarkdown(text: string): string {
  return clean(text)
    .replace(markup, '\\$&')
    .replaceAll('://', '\\://')
    .replace(/\bwww\./gi, (www) => `${www.slice(0, -1)}\\.`)
    .replace(/^([-+=])/, '\\$1')
    .replace(/^(\d{1,9})([.)])/, '$1\\$2');
}

/**
 * Lines as a fenced block (CommonMark 0.31, 4.5), blanks kept: the fence is longer than any run of
 * backticks inside, and no line holds a control sign or a line break of its own.
 */
export function codeBlock(lines: readonly string[]): string[] {
  const safe = lines.map((line) => line.replace(unsafeCharacters, ' ').trimEnd());
  const runs = safe.flatMap((line) => line.match(/`+/g) ?? []).map((run) => run.length);
  const fence = '`'.repeat(Math.max(2, ...runs) + 1);
  return [fence, ...safe, fence];
}

/** Items of a list, each on one line. */
export function bullets(items: readonly string[]): string[] {
  return items.map((item) => `- ${plainMarkdown(item)}`);
}
