import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import type { Walk } from './bulk-table.ts';
import { missing } from './port-cells.ts';
import type { SnmpObject } from './snmp-object.ts';
import type { Read } from './values.ts';

/** One value of one row of a walked column. */
export function cellOf<T>(
  walk: Walk,
  column: SnmpObject,
  index: string,
  read: (varbind: Varbind, what: string) => Read<T>,
): Read<T> {
  const walked = walk.columns.get(column.oid);
  const cell = walked?.cells.get(index);
  return cell === undefined ? { gap: missing(column, walked) } : read(cell, column.name);
}

/**
 * Why a walked column may lack rows: it ends early, or holds a value that its object cannot have.
 * Undefined where all of it came, or there is nothing of it. What makes a list of the rows asks this.
 */
export function lostIn(
  walk: Walk,
  column: SnmpObject,
  read: (varbind: Varbind, what: string) => Read<unknown>,
): Gap | undefined {
  const walked = walk.columns.get(column.oid);
  if (walked?.cut !== undefined) return missing(column, walked);
  for (const cell of walked?.cells.values() ?? []) {
    const { gap } = read(cell, column.name);
    if (gap?.reason === 'unreadable') return gap;
  }
  return undefined;
}

/** Rows of a walked column: indexes and values, those that cannot be read left out. */
export function rowsOf<T>(
  walk: Walk,
  column: SnmpObject,
  read: (varbind: Varbind, what: string) => Read<T>,
): readonly (readonly [index: string, value: T])[] {
  return [...(walk.columns.get(column.oid)?.cells ?? [])].flatMap(([index, cell]) => {
    const value = read(cell, column.name);
    return value.gap === undefined ? [[index, value.value] as const] : [];
  });
}
