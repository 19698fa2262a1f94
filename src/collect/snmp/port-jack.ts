import type { FactValue } from '../../facts/entry.ts';
import type { Walk } from './bulk-table.ts';
import { ifJackType } from './objects.ts';
import { missing } from './port-cells.ts';
import { objectText } from './snmp-object.ts';
import { integerOf, type Read, unsupported } from './values.ts';

/** Source of the fact that jacks give. */
export const jackFactSources: Readonly<Record<string, string>> = {
  mediaText: objectText(ifJackType),
};

/** JackType of IANA-MAU-MIB, from 2 on; 1 is other. */
const jackTypes = [
  'RJ-45',
  'RJ-45 shielded',
  'DB-9',
  'BNC',
  'AUI female',
  'AUI male',
  'fibre SC',
  'fibre MIC',
  'fibre ST',
  'telco',
  'fibre MT-RJ',
  'HSSDC',
  'fibre LC',
  'CX4',
];
const firstNamed = 2;

/** Jacks that one port has, at most: a socket and a cage that share it are two. */
const jacksMax = 16;

/** What one plugs into a port, by the jacks of its media (RFC 4836 ifJackTable). */
export function jackReader(
  walk: Walk,
): (ifIndex: number) => Readonly<Record<string, Read<FactValue>>> {
  const column = walk.columns.get(ifJackType.oid);
  const byPort = new Map<number, Read<string>[]>();
  for (const [index, cell] of column?.cells ?? []) {
    const [, ifIndex] = /^([1-9]\d{0,9})\.\d{1,10}\.\d{1,10}$/.exec(index) ?? [];
    if (ifIndex === undefined) continue;
    const known = byPort.get(Number(ifIndex)) ?? [];
    const type = integerOf(cell, ifJackType.name, [1, 2 ** 31 - 1]);
    if (known.length < jacksMax) known.push(type.gap ? type : nameOf(type.value));
    byPort.set(Number(ifIndex), known);
  }
  return (ifIndex) => ({
    mediaText: together(byPort.get(ifIndex)) ?? { gap: missing(ifJackType, column) },
  });
}

function nameOf(type: number): Read<string> {
  const name = jackTypes[type - firstNamed];
  return name === undefined ? { gap: unsupported(`ifJackType is ${type}`) } : { value: name };
}

/** One jack that is not told makes the whole unknown: half a list would pass for all of it. */
function together(jacks: readonly Read<string>[] = []): Read<string> | undefined {
  const gap = jacks.find((jack) => jack.gap !== undefined);
  if (jacks.length === 0 || gap !== undefined) return gap;
  return { value: [...new Set(jacks.map(({ value }) => value))].join(', ') };
}
