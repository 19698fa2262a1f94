import type { z } from 'zod';
import type { Place } from '../facts/subject.ts';
import type { SchemaFaults } from './schema-faults.ts';
import { entryPlace, type Spot } from './spot.ts';
import type { YamlTree } from './yaml-tree.ts';

/** One valid entry of a section, with the places of all that is in it. */
export interface Entry<T> {
  /** Its name; in a list its index. */
  readonly key: string;
  readonly value: T;
  readonly spot: Spot;
}

/** Name of an entry, valid or not, and where it is given. */
export interface EntryName {
  readonly name: string;
  readonly place: Place;
}

/** One top-level key of an intent, of one file or of all. */
export interface Section<T> {
  /** Those at fault too, without what is at fault, as far as they can do without it. */
  readonly entries: readonly Entry<T>[];
  /** Names of all entries, also of those at fault: to name one of them is no second fault. */
  readonly names: readonly EntryName[];
  /** False when names may be missing, so that an unknown name is no fault. */
  readonly namesComplete: boolean;
  /** False when an entry is at fault or missing, so that nothing can be told from its absence. */
  readonly entriesComplete: boolean;
}

type FaultPath = readonly PropertyKey[];

/** The entries of section `name` of a file. */
export function sectionOf<T>(
  name: string,
  schema: z.ZodType<T>,
  { tree, found }: { readonly tree: YamlTree; readonly found: SchemaFaults },
): Section<T> {
  const inSection = found.paths.filter(([first]) => first === name);
  const raw = tree.value[name];
  const mayBeMisspelt = raw === undefined && found.meantAtRoot.has(name);
  const lost = mayBeMisspelt || inSection.some((path) => path.length === 1);
  const spots = [...(tree.spot.children.get(name)?.children ?? [])];
  const sound = lost || typeof raw !== 'object' || raw === null ? [] : Object.entries(raw);
  const faultsOf = new Map<string, FaultPath[]>();
  for (const path of inSection) {
    const key = String(path[1]);
    faultsOf.set(key, [...(faultsOf.get(key) ?? []), path]);
  }
  const bySpot = new Map(spots.map(([key, spot]) => [String(key), spot]));
  return {
    entries: sound.flatMap(([key, value]) => {
      const spot = bySpot.get(key);
      const parsed = schema.safeParse(withoutFaults(value, faultsOf.get(key) ?? []));
      if (spot === undefined || !parsed.success) return [];
      return [{ key, value: parsed.data, spot }];
    }),
    names: spots.map(([key, spot]) => ({ name: String(key), place: entryPlace(spot) })),
    namesComplete: !lost,
    entriesComplete: inSection.length === 0 && !lost,
  };
}

// So that a wrong speed does not hide a wrong name beside it. Whole keys go: to take an item out of
// a list would move those after it.
function withoutFaults(value: unknown, paths: readonly FaultPath[]): unknown {
  if (paths.length === 0) return value;
  if (typeof value !== 'object' || value === null || paths.some((path) => path.length < 3)) {
    return undefined;
  }
  const faulty = new Set(paths.map((path) => String(path[2])));
  return Object.fromEntries(Object.entries(value).filter(([key]) => !faulty.has(key)));
}

/** The sections of several files as one, in the order of the files. */
export function joinSections<T>(sections: readonly Section<T>[], allFiles: boolean): Section<T> {
  return {
    entries: sections.flatMap(({ entries }) => entries),
    names: sections.flatMap(({ names }) => names),
    namesComplete: allFiles && sections.every(({ namesComplete }) => namesComplete),
    entriesComplete: allFiles && sections.every(({ entriesComplete }) => entriesComplete),
  };
}
