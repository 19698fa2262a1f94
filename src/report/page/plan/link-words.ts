import { standingWords } from './standing.ts';
import type { SheetLink } from './whole-sheet.ts';

/** What each state is called where there is room. */
export const stateWords = {
  down: 'no link',
  'too-small': 'MTU too small',
  slow: 'slower, or in another duplex, than it should be',
  'not-known': 'not read, or not settled',
  'as-declared': 'as declared',
  'not-declared': 'not declared',
} as const;

/** A link in one line, for who does not see it: its ends, what is amiss, what was found. */
export function linkWords({ id, reading, told, lag }: SheetLink): string {
  const marks = reading.marks.length === 0 ? [stateWords[reading.state]] : reading.marks;
  const found =
    told.count === 0 ? [] : [`${findingCount(told.count)}, ${standingWords[told.standing]}`];
  const member = lag === undefined ? [] : [`in aggregate ${lag}`];
  return `${id}: ${[...marks, ...member, ...found].join(', ')}`;
}

/** `1 finding`, `3 findings` */
export function findingCount(count: number): string {
  return `${count} finding${count === 1 ? '' : 's'}`;
}
