import { quoted } from './fault.ts';
import { absolutePath, pathFrom } from './file-path.ts';
import { wordRemedy } from './nearest.ts';
import type { Section } from './sections.ts';
import type { InputFault, PolicyRef } from './types.ts';

/** Policies in force where the intent names none. */
export const defaultPolicies: readonly string[] = ['essential', 'jumbo'];

/** What policies are looked up in. */
export interface PolicyGround {
  readonly shippedPolicies: readonly string[];
  readonly workingFolder?: string;
}

/** The policies that all files name, each once; the default ones where none does. */
export function buildPolicies(
  section: Section<string>,
  ground: PolicyGround,
  faults: InputFault[],
): readonly PolicyRef[] {
  const refs = new Map<string, PolicyRef>();
  for (const { value, spot } of section.entries) {
    const ref = refOf(value, spot.value, ground);
    if (ref === undefined) faults.push(unknown(value, spot.value, ground));
    else if (!refs.has(ref.file ?? ref.name)) refs.set(ref.file ?? ref.name, ref);
  }
  if (section.names.length === 0) return defaultPolicies.map((name) => ({ name }));
  return [...refs.values()];
}

function refOf(
  name: string,
  place: InputFault['place'],
  { shippedPolicies, workingFolder }: PolicyGround,
): PolicyRef | undefined {
  if (shippedPolicies.includes(name)) return { name, place };
  if (!name.endsWith('.yaml')) return undefined;
  return { name, place, file: absolutePath(pathFrom(place.file, name), workingFolder) };
}

function unknown(name: string, place: InputFault['place'], ground: PolicyGround): InputFault {
  const what = 'no shipped policy has this name';
  const isFile = /[/\\]|\.ya?ml$/.test(name);
  const remedy = isFile
    ? "a file of your own must end in '.yaml'"
    : wordRemedy(name, ground.shippedPolicies);
  return { place, what, seen: quoted(name), remedy };
}
