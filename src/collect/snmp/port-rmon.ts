import type { FactValue } from '../../facts/entry.ts';
import type { Walk } from './bulk-table.ts';
import { rmonColumns, wideColumns } from './counter-objects.ts';
import { ifIndexOfPointer } from './known-ports.ts';
import { missing } from './port-cells.ts';
import { objectText } from './snmp-object.ts';
import { cellOf, rowsOf } from './table-cells.ts';
import { counterOf, identifierOf, type Read } from './values.ts';

const counters = [
  ['rxOversize', rmonColumns.etherStatsOversizePkts],
  ['rxFragments', rmonColumns.etherStatsFragments],
  ['rxJabbers', rmonColumns.etherStatsJabbers],
] as const;

/** Source of each counter of RMON. */
export const rmonFactSources: Readonly<Record<string, string>> = Object.fromEntries(
  counters.map(([fact, column]) => [fact, objectText(column)]),
);

/** Counters of RMON of one port. Of several rows for a port the first is taken. */
export function rmonReader(
  walk: Walk,
): (ifIndex: number) => Readonly<Record<string, Read<FactValue>>> {
  const source = rmonColumns.etherStatsDataSource;
  const rowOf = new Map<number, string>();
  for (const [index, pointer] of rowsOf(walk, source, identifierOf)) {
    const ifIndex = ifIndexOfPointer(pointer);
    if (ifIndex !== undefined && !rowOf.has(ifIndex)) rowOf.set(ifIndex, index);
  }
  return (ifIndex) => {
    const row = rowOf.get(ifIndex);
    return Object.fromEntries(
      counters.map(([fact, column]) => [
        fact,
        row === undefined
          ? { gap: missing(source, walk.columns.get(source.oid)) }
          : cellOf(walk, column, row, counterOf),
      ]),
    );
  };
}

const twins = [
  ['rxAlignmentErrors', wideColumns.dot3HCStatsAlignmentErrors],
  ['rxCrcErrors', wideColumns.dot3HCStatsFCSErrors],
  ['rxTooLong', wideColumns.dot3HCStatsFrameTooLongs],
  ['rxSymbolErrors', wideColumns.dot3HCStatsSymbolErrors],
] as const;

/** A counter of 64 bits with its source. */
export interface WideCounter {
  readonly value: number;
  readonly source: string;
}

/**
 * Error counters of 64 bits of one port, those that are there: at 10 Gb/s their twins of 32 bits
 * can wrap within five minutes (RFC 3635).
 */
export function wideCounters(walk: Walk, ifIndex: number): Readonly<Record<string, WideCounter>> {
  return Object.fromEntries(
    twins.flatMap(([fact, column]) => {
      const read = cellOf(walk, column, String(ifIndex), counterOf);
      return read.gap === undefined
        ? [[fact, { value: read.value, source: objectText(column) }] as const]
        : [];
    }),
  );
}
