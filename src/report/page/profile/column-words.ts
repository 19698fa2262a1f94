import { clean } from '../../layout.ts';
import { runWords } from '../../run-words.ts';
import type { Stop } from './clearance-plan.ts';
import { hopSentence, lengthWords } from './hop-lines.ts';
import { type Joint, runFrom, type Spot } from './path-spots.ts';

/** What one column shows, in words: its nodes, and every hop and way in it. */
export function columnWords(stops: readonly Stop[]): {
  readonly title: string;
  readonly desc: string;
} {
  const names = new Set(stops.flatMap(({ spot }) => spot?.node ?? []).map(clean));
  return { title: [...names].join(', '), desc: stops.map(stopWords).filter(Boolean).join('. ') };
}

function stopWords({ spot, cells, next }: Stop): string {
  if (spot === undefined) return '';
  const hops = cells.map(({ view }) => hopSentence(view));
  const known = cells.length > 0 ? hops : [`${clean(spot.node)}, no port known`];
  return [...known, ...(next === undefined ? [] : [wayWords(next, spot)])].join('; ');
}

/** What lies on a joint, and where it leads, as one comes from `spot`. */
export function wayWords(joint: Joint, spot: Spot): string {
  const to = clean((joint.near === spot ? joint.far : joint.near).node);
  if (joint.link === undefined) return `what lies between here and ${to} is not declared`;
  const run = runFrom(joint, spot);
  const pieces = runWords(run, true);
  const length = lengthWords(run);
  const all = [pieces, run.length > 1 && length !== undefined ? `in all ${length}` : ''];
  return ['then', all.filter(Boolean).join(', '), pieces === '' ? to : `to ${to}`]
    .filter(Boolean)
    .join(' ');
}
