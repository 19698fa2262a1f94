import type { Asker } from './asker.ts';
import { bulkTable, type WalkedColumn } from './bulk-table.ts';
import { ifStackStatus } from './objects.ts';
import type { Pace } from './pace.ts';
import { missing } from './port-cells.ts';
import { type Read, unsupported } from './values.ts';

/** ifStackStatus of a layer that is in use (RFC 2863). */
const active = 1;

/** Gives the names of the ports right below one port. */
export type LowerPorts = (ifIndex: number) => Read<readonly string[]>;

/** Reads which port is built on which; asked only where some port is built on others. */
export async function readLayers(
  asker: Asker,
  pace: Pace,
  names: ReadonlyMap<number, string>,
): Promise<LowerPorts> {
  const walk = await bulkTable(asker, [ifStackStatus], { pace });
  const column = walk.columns.get(ifStackStatus.oid);
  const below = column === undefined ? new Map() : lowerIndexes(column);
  return (ifIndex) => {
    const lower = (below.get(ifIndex) ?? []).flatMap((index: number) => names.get(index) ?? []);
    // A list cut short would read as all there is.
    if (column?.cut !== undefined || column?.cells.size === 0) {
      return { gap: missing(ifStackStatus, column) };
    }
    return lower.length > 0 ? { value: lower } : { gap: unsupported(nothingBelow) };
  };
}

function lowerIndexes(column: WalkedColumn): Map<number, number[]> {
  const below = new Map<number, number[]>();
  for (const [index, { value }] of column.cells) {
    const [, higher, lower] = /^(\d{1,10})\.(\d{1,10})$/.exec(index) ?? [];
    if (higher === undefined || lower === undefined || value !== active) continue;
    // Index 0 marks the top and the bottom of a stack, not a port.
    if (Number(higher) === 0 || Number(lower) === 0) continue;
    below.set(Number(higher), [...(below.get(Number(higher)) ?? []), Number(lower)]);
  }
  return below;
}

const nothingBelow = 'ifStackTable lists nothing below this port';
