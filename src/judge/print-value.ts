import { cleanText, sentenceLengthMax } from '../facts/clean-text.ts';
import type { Value } from './term.ts';

/** Longest list that is printed item by item. */
export const printedItemsMax = 12;

/** A value in plain words: `9000`, `2.5`, `yes`, `eth4, eth5`. Device text comes out clean. */
export function printValue(value: Value): string {
  if (typeof value === 'string') return cleanText(value, sentenceLengthMax);
  if (typeof value === 'number') return printNumber(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (value.length === 0) return 'none';
  const shown = value.slice(0, printedItemsMax).map(printValue).join(', ');
  const left = value.length - printedItemsMax;
  return left > 0 ? `${shown} and ${left} more` : shown;
}

// Six places hide what binary fractions add; no fact is finer.
function printNumber(value: number): string {
  const rounded = Math.round(value * 1e6) / 1e6;
  return String(Number.isFinite(rounded) ? rounded : value);
}
