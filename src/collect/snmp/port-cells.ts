import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import type { Walk, WalkedColumn } from './bulk-table.ts';
import { type PortColumn, portColumns } from './objects.ts';
import { objectText, type SnmpObject } from './snmp-object.ts';
import { type Read, unsupported } from './values.ts';

/** Reads one value of one port out of the walked columns. */
export type CellReader = <T>(
  column: PortColumn,
  read: (varbind: Varbind, what: string) => Read<T>,
) => Read<T>;

/** The values of one row. */
export function cellReader(walk: Walk, ifIndex: number): CellReader {
  const index = String(ifIndex);
  return (name, read) => {
    const column = walk.columns.get(portColumns[name].oid);
    const cell = column?.cells.get(index);
    return cell === undefined ? { gap: missing(portColumns[name], column) } : read(cell, name);
  };
}

/** Why a column has no value for a row. */
export function missing(object: SnmpObject, column: WalkedColumn | undefined): Gap {
  const cut = column?.cut;
  if (cut !== undefined) return { reason: 'truncated', words: `${object.name}: ${cut.words}` };
  if (column === undefined || column.cells.size === 0) {
    return unsupported(`the agent shows no ${objectText(object)}`);
  }
  return unsupported(`the agent shows no ${object.name} for this port`);
}

/** ifIndex of every row that a column of ifTable or ifXTable has, in ascending order. */
export function rowIndexes(walk: Walk): readonly number[] {
  const indexes = new Set<number>();
  for (const { mib, oid } of Object.values(portColumns)) {
    // EtherLike rows alone would be ports without a name or a kind.
    if (mib !== 'IF-MIB') continue;
    for (const index of walk.columns.get(oid)?.cells.keys() ?? []) {
      if (/^[1-9]\d{0,9}$/.test(index)) indexes.add(Number(index));
    }
  }
  return [...indexes].sort((a, b) => a - b);
}
