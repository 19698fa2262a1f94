import type { Served } from './served-objects.ts';

/** The row after the last of a column, made from it; undefined: `oid` is not behind its last row. */
export function oneMoreRow(oid: string, last?: Served, next?: Served): Served | undefined {
  const stem = stemOf(oid);
  if (last === undefined || stemOf(last.oid) !== stem) return undefined;
  if (next !== undefined && stemOf(next.oid) === stem) return undefined;
  const numbers = oid.split('.').map(Number);
  numbers.push((numbers.pop() ?? 0) + 1);
  return { ...last, oid: numbers.join('.'), numbers };
}

function stemOf(oid: string): string {
  return oid.slice(0, oid.lastIndexOf('.'));
}
