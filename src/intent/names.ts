import type { Place } from '../facts/subject.ts';
import { placeText, quoted } from './fault.ts';
import type { Sections } from './intent-file.ts';
import { faultsMax } from './limits.ts';
import { wordRemedy } from './nearest.ts';
import type { EntryName } from './sections.ts';
import type { InputFault } from './types.ts';

/** Most names that a message lists when none is near. */
const listedMax = 12;

/** What shares one set of names. */
export const namedKinds = ['node', 'segment', 'path'] as const;
/** What shares one namespace with all else that has a name. */
export type NamedKind = (typeof namedKinds)[number];

/** All names of an intent. */
export interface Names {
  readonly kinds: ReadonlyMap<string, NamedKind>;
  readonly byKind: Readonly<Record<NamedKind, readonly string[]>>;
  /** False for a kind of which names may be missing. */
  readonly complete: Readonly<Record<NamedKind, boolean>>;
}

/** What the steps of building share: the names, and the faults found so far. */
export interface Build {
  readonly names: Names;
  readonly faults: InputFault[];
}

/** Gathers the names of all sections, with a fault for each that is given twice. */
export function collectNames({ nodes, segments, paths }: Sections, faults: InputFault[]): Names {
  const kinds = new Map<string, NamedKind>();
  const places = new Map<string, Place>();
  const add = (kind: NamedKind, { name, place }: EntryName) => {
    const first = places.get(name);
    if (first !== undefined) faults.push(twice({ name, place }, first, kinds.get(name) ?? kind));
    else {
      kinds.set(name, kind);
      places.set(name, place);
    }
  };
  for (const entry of nodes.names) add('node', entry);
  for (const entry of segments.names) add('segment', entry);
  for (const entry of paths.names) add('path', entry);
  const ofKind = (kind: NamedKind) => [...kinds].flatMap(([name, k]) => (k === kind ? [name] : []));
  return {
    kinds,
    byKind: { node: ofKind('node'), segment: ofKind('segment'), path: ofKind('path') },
    complete: {
      node: nodes.namesComplete,
      segment: segments.namesComplete,
      path: paths.namesComplete,
    },
  };
}

function twice({ name, place }: EntryName, first: Place, kind: NamedKind): InputFault {
  const what = `${quoted(name)} is already the name of a ${kind}`;
  const remedy = 'rename one: nodes, segments and paths share one set of names';
  return { place, what, seen: `first at ${placeText(first)}`, remedy };
}

/** Whether `name` may stand at `place`, where a name of `kinds` is meant; a fault if it may not. */
export function checkName(
  { names, faults }: Build,
  { name, place }: EntryName,
  kinds: readonly NamedKind[],
): boolean {
  const kind = names.kinds.get(name);
  if (kind !== undefined && kinds.includes(kind)) return true;
  if (kind === undefined && !kinds.every((k) => names.complete[k])) return false;
  const wanted = kinds.join(' or ');
  const what =
    kind === undefined
      ? `no ${wanted} has this name`
      : `a ${wanted} is meant here, and this is a ${kind}`;
  // Beyond what is shown, no nearest word is looked for: it would cost time by the square.
  const valid = faults.length > faultsMax ? [] : kinds.flatMap((k) => names.byKind[k]);
  const otherwise = kind === undefined ? `declare the ${wanted}` : `name a ${wanted}`;
  const listed = kind === undefined && valid.length > 0 && valid.length <= listedMax;
  const remedy = wordRemedy(name, valid, listed ? undefined : otherwise);
  faults.push({ place, what, seen: quoted(name), remedy });
  return false;
}
