import { columnsOf } from '../layout.ts';

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** `text` in at most `columns` of a fixed-width face, with an ellipsis where it was cut. */
export function shortText(text: string, columns: number): string {
  // A flood costs no more than what is shown of it could need.
  const head = text.slice(0, columns * 16);
  if (head === text && columnsOf(text) <= columns) return text;
  let kept = '';
  for (const { segment } of graphemes.segment(head)) {
    if (columnsOf(kept) + columnsOf(segment) > columns - 1) break;
    kept += segment;
  }
  return `${kept}\u2026`;
}
