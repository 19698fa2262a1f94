import type { Varbind } from './agent-session.ts';
import { bridgeColumns } from './bridge-objects.ts';
import type { Walk } from './bulk-table.ts';
import { numberIndex } from './known-ports.ts';
import { missing } from './port-cells.ts';
import { lostIn, rowsOf } from './table-cells.ts';
import { integerOf, type Read } from './values.ts';

/** Numbers that a bridge gives its ports, to ifIndex. */
export type BridgePorts = ReadonlyMap<number, number>;

/** The map from bridge port to ifIndex; a map that lacks rows is no map. */
export function bridgePorts(walk: Walk): Read<BridgePorts> {
  const column = walk.columns.get(bridgeColumns.dot1dBasePortIfIndex.oid);
  const rows = rowsOf(walk, bridgeColumns.dot1dBasePortIfIndex, ifIndexCell);
  const ports = new Map(
    rows.flatMap(([index, ifIndex]) => {
      const port = numberIndex(index);
      return port === undefined ? [] : [[port, ifIndex] as const];
    }),
  );
  const lost = lostIn(walk, bridgeColumns.dot1dBasePortIfIndex, ifIndexCell);
  if (lost !== undefined) return { gap: lost };
  if (ports.size === 0) return { gap: missing(bridgeColumns.dot1dBasePortIfIndex, column) };
  return { value: ports };
}

function ifIndexCell(cell: Varbind, what: string): Read<number> {
  return integerOf(cell, what, [1, 2 ** 31 - 1]);
}

/** The other way round: the bridge port of an ifIndex. */
export function bridgePortOf(ports: BridgePorts, ifIndex: number): number | undefined {
  for (const [port, index] of ports) if (index === ifIndex) return port;
  return undefined;
}
