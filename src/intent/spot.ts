import type { Place } from '../facts/subject.ts';

/** Where a value of a YAML file stands, with the spots of what is in it. */
export interface Spot {
  /** Start of the value. */
  readonly value: Place;
  /** Start of its key; absent for list items and the root. */
  readonly key?: Place;
  /** A number as it is written; absent for everything else. */
  readonly source?: string;
  /** By key of a map or index of a list; empty for a scalar. */
  readonly children: ReadonlyMap<string | number, Spot>;
}

/** A step down from the root: key of a map or index of a list. */
export type Step = string | number;

/** The spot at `path`, or of the nearest thing above it that exists. */
export function spotAt(root: Spot, path: readonly PropertyKey[]): Spot {
  let spot = root;
  for (const step of path) {
    const next = typeof step === 'symbol' ? undefined : spot.children.get(step);
    if (next === undefined) return spot;
    spot = next;
  }
  return spot;
}

/** Where to point for a fault in a whole entry: its key, else its value. */
export function entryPlace(spot: Spot): Place {
  return spot.key ?? spot.value;
}
