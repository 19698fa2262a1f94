import { clean, columnsOf } from '../layout.ts';

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** Text of at most `columns` columns, cut with an ellipsis and never inside a character. */
export function shorten(text: string, columns: number): string {
  const whole = clean(text);
  if (whole.length <= columns && columnsOf(whole) <= columns) return whole;
  let cut = '';
  // A column takes one UTF-16 unit or more only with marks; a flood of those is cut before.
  for (const { segment } of graphemes.segment(whole.slice(0, columns * 8))) {
    if (columnsOf(`${cut}${segment}`) > columns - 1) return `${cut}\u2026`;
    cut += segment;
  }
  return cut.length === whole.length ? whole : `${cut}\u2026`;
}
