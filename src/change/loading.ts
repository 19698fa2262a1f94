import type { Place } from '../facts/subject.ts';
import { quoted } from '../intent/fault.ts';
import { wordRemedy } from '../intent/nearest.ts';
import { entryPlace, type Spot, spotAt } from '../intent/spot.ts';
import type { InputFault, Intent } from '../intent/types.ts';

/** A change file while it is loaded. */
export interface Loading {
  readonly intent: Intent;
  readonly root: Spot;
  readonly faults: InputFault[];
}

/** Whether the intent has what is named; a fault where it has not. */
export function checkName(
  { intent, faults }: Loading,
  place: Place,
  name: string,
  kind: 'node' | 'segment',
): boolean {
  const names = intent[kind === 'node' ? 'nodes' : 'segments'].map((each) => each.name);
  if (names.includes(name)) return true;
  const remedy = wordRemedy(name, names, `name a ${kind} of the intent`);
  faults.push({ place, what: `the intent has no such ${kind}`, seen: quoted(name), remedy });
  return false;
}

/** Where an entry of the file stands. */
export function placeOf({ root }: Loading, path: readonly string[]): Place {
  return entryPlace(spotAt(root, path));
}
