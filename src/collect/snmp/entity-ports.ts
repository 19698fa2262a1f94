import type { Walk } from './bulk-table.ts';
import { entityColumns } from './entity-objects.ts';
import { ifIndexOfPointer, type KnownPorts, numberIndex } from './known-ports.ts';
import { rowsOf } from './table-cells.ts';
import { identifierOf, integerOf, textOf } from './values.ts';

/** Steps up the tree of parts from a sensor to its port, at most. */
const stepsMax = 8;
/** PhysicalClass of a port, and of what holds too much to belong to one port (RFC 6933). */
const portClass = 10;
const wholeClasses: readonly (number | undefined)[] = [3, 11];

/**
 * Finds the port (ifIndex) that a part belongs to: the part itself or the nearest part that holds
 * it which an alias or its name makes a port, else the only port within one of those. Undefined:
 * it belongs to none, or to several.
 */
export function entityPorts(walk: Walk, ports: KnownPorts): (part: number) => number | undefined {
  const holder = numbers(walk, 'entPhysicalContainedIn');
  const classes = numbers(walk, 'entPhysicalClass');
  const own = portOfPart(walk, ports, classes);
  const within = heldPorts(holder, own);
  return (part) => {
    let at: number | undefined = part;
    for (let step = 0; step <= stepsMax && at !== undefined && at !== 0; step += 1) {
      if (wholeClasses.includes(classes.get(at))) return undefined;
      const found = own.get(at);
      if (found !== undefined) return found;
      const held: ReadonlySet<number> = within.get(at) ?? new Set<number>();
      if (held.size > 1) return undefined;
      const [only] = held;
      if (only !== undefined) return only;
      at = holder.get(at);
    }
    return undefined;
  };
}

/** ifIndexes of the ports that each part holds, at any depth. */
function heldPorts(
  holder: ReadonlyMap<number, number>,
  own: ReadonlyMap<number, number>,
): ReadonlyMap<number, ReadonlySet<number>> {
  const within = new Map<number, Set<number>>();
  for (const [part, ifIndex] of own) {
    let at = holder.get(part);
    for (let step = 0; step <= stepsMax && at !== undefined && at !== 0; step += 1) {
      within.set(at, (within.get(at) ?? new Set()).add(ifIndex));
      at = holder.get(at);
    }
  }
  return within;
}

function portOfPart(
  walk: Walk,
  ports: KnownPorts,
  classes: ReadonlyMap<number, number>,
): ReadonlyMap<number, number> {
  const found = new Map<number, number>();
  for (const [index, pointer] of rowsOf(
    walk,
    entityColumns.entAliasMappingIdentifier,
    identifierOf,
  )) {
    const [, part] = /^([1-9]\d{0,9})\.\d{1,10}$/.exec(index) ?? [];
    const ifIndex = ifIndexOfPointer(pointer);
    if (part !== undefined && ifIndex !== undefined && ports.has(ifIndex)) {
      found.set(Number(part), ifIndex);
    }
  }
  // Agents without aliases name their ports alike in both tables (common practice).
  const byName = new Map([...ports.values()].map((port) => [port.name, port.ifIndex]));
  for (const [index, name] of rowsOf(walk, entityColumns.entPhysicalName, textOf)) {
    const part = numberIndex(index);
    const ifIndex = byName.get(name);
    if (part === undefined || ifIndex === undefined || found.has(part)) continue;
    if (classes.get(part) === portClass) found.set(part, ifIndex);
  }
  return found;
}

function numbers(
  walk: Walk,
  column: 'entPhysicalContainedIn' | 'entPhysicalClass',
): ReadonlyMap<number, number> {
  const rows = rowsOf(walk, entityColumns[column], (cell, what) =>
    integerOf(cell, what, [0, 2 ** 31 - 1]),
  );
  return new Map(
    rows.flatMap(([index, value]) => {
      const part = numberIndex(index);
      return part === undefined ? [] : [[part, value] as const];
    }),
  );
}
