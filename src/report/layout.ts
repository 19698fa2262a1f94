import stringWidth from 'string-width';
import { cleanText } from '../facts/clean-text.ts';

/** Longest text of one value in a report, in UTF-16 units. */
const valueLengthMax = 4000;

/** Text of a file or a device, made safe for a terminal. */
export function clean(text: string): string {
  return cleanText(text, valueLengthMax);
}

/** Columns that a terminal needs for `text`. */
export function columnsOf(text: string): number {
  return stringWidth(text);
}

/** `text` with blanks after it up to `columns`; longer text stays as it is. */
export function padEnd(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - columnsOf(text)));
}

/** `text` in the middle of `columns`, filled with `fill` (one column wide) on both sides. */
export function centre(text: string, columns: number, fill = ' '): string {
  const free = Math.max(0, columns - columnsOf(text));
  const left = Math.floor(free / 2);
  return fill.repeat(left) + text + fill.repeat(free - left);
}

/** A blank at which no line breaks; printed as a plain blank. `clean` leaves none in its text. */
export const noBreak = '\u00a0';

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** `text` cut into pieces of at most `columns`, never inside a character. */
function cut(text: string, columns: number): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const { segment } of graphemes.segment(text)) {
    if (piece !== '' && columnsOf(piece) + columnsOf(segment) > columns) {
      pieces.push(piece);
      piece = '';
    }
    piece += segment;
  }
  return piece === '' ? pieces : [...pieces, piece];
}

/** What of `text` has room in `columns`, never half a character. */
export function headOf(text: string, columns: number): string {
  return cut(text, columns)[0] ?? '';
}

/**
 * Lines of at most `width` columns: the first begins with `lead`, the others with as many blanks.
 * Breaks at blanks except `noBreak`; a word longer than a line is cut.
 */
export function wrap(lead: string, text: string, width: number): string[] {
  const indent = ' '.repeat(columnsOf(lead));
  const room = Math.max(8, width - indent.length);
  const lines: string[] = [];
  let line = '';
  let used = 0;
  for (const word of text.split(' ').filter((part) => part !== '')) {
    const columns = columnsOf(word);
    if (line !== '' && used + 1 + columns <= room) {
      line += ` ${word}`;
      used += 1 + columns;
      continue;
    }
    if (line !== '') lines.push(line);
    const pieces = columns > room ? cut(word, room) : [word];
    line = pieces.pop() ?? '';
    lines.push(...pieces);
    used = columnsOf(line);
  }
  lines.push(line);
  return lines.map((each, at) =>
    `${at === 0 ? lead : indent}${each}`.trimEnd().replaceAll(noBreak, ' '),
  );
}
