import { closest } from 'fastest-levenshtein';
import { cleanText } from '../facts/clean-text.ts';
import type { Gap } from '../facts/gap.ts';
import { gapOf } from './provenance.ts';
import type { PortRef } from './site-index.ts';

/** Ports that are looked through for a name near to a declared one, at most. */
const namesMax = 4096;

/**
 * Why nothing is known of a port that was not read: its node does not have it, or the node's list
 * of ports was cut short, and then nobody can say.
 */
export function missingPort(ref: PortRef): Gap {
  const cut = cutList(ref);
  if (cut !== undefined) return cut;
  const near = nearestName(ref);
  const hint = near === undefined ? '' : `; the nearest name is "${near}"`;
  const wanted = ref.nameless ? `no port found for "${ref.name}"` : `no port "${ref.name}"`;
  return gapOf('unsupported', cleanText(`the node has ${wanted}${hint}`), `port ${ref.id}`);
}

/** Why a port that was not read may still exist; undefined where the list of ports is whole. */
export function cutList({ node, survey }: PortRef): Gap | undefined {
  const gap = survey === undefined ? node.survey?.gaps['ports'] : undefined;
  if (gap === undefined) return undefined;
  const words = cleanText(`the list of its ports was not read whole: ${gap.words}`);
  return gapOf(gap.reason, words, `ports of ${node.declared.name}`);
}

/** The node's own port name nearest to the declared one; undefined when the node has no ports. */
export function nearestName(ref: PortRef): string | undefined {
  const names = [...ref.node.ports.keys()].slice(0, namesMax);
  return names.length === 0 ? undefined : cleanText(closest(ref.name, names));
}
