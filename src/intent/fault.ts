import { cleanText } from '../facts/clean-text.ts';
import type { Place } from '../facts/subject.ts';
import { faultsMax } from './limits.ts';
import type { InputFault } from './types.ts';

/** `file:line:column: what; seen; do`, in one line that is safe to print. */
export function faultLine(fault: InputFault): string {
  const { file, line, column } = fault.place;
  const parts = [fault.what, fault.seen, fault.remedy].filter((part) => part !== undefined);
  const told = parts.map((part) => cleanText(part, 400)).join('; ');
  return `${cleanText(file)}:${line}:${column}: ${told}`;
}

/** Outside text in a message: cleaned, cut and in single quotes. */
export function quoted(text: string): string {
  return `'${cleanText(text, 80)}'`;
}

/** `file:line:column` of a place, for a message about another place. */
export function placeText(place: Place): string {
  return `${cleanText(place.file)}:${place.line}:${place.column}`;
}

/** Faults by file, line and column, at most `faultsMax` of them and one that counts the rest. */
export function sortFaults(faults: readonly InputFault[]): readonly InputFault[] {
  const sorted = [...faults].sort(byPlace);
  const last = sorted[faultsMax - 1];
  if (sorted.length <= faultsMax || last === undefined) return sorted;
  const rest: InputFault = {
    place: last.place,
    what: `${sorted.length - faultsMax} more faults are not shown`,
    remedy: 'repair these first',
  };
  return [...sorted.slice(0, faultsMax), rest];
}

function byPlace(a: InputFault, b: InputFault): number {
  if (a.place.file !== b.place.file) return a.place.file < b.place.file ? -1 : 1;
  const order = a.place.line - b.place.line || a.place.column - b.place.column;
  return order || (a.what < b.what ? -1 : Number(a.what > b.what));
}
