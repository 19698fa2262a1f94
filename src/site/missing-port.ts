import { closest } from 'fastest-levenshtein';
import { cleanText } from '../facts/clean-text.ts';
import type { Gap } from '../facts/gap.ts';
import { gapOf } from './provenance.ts';
import type { PortRef } from './site-index.ts';

/** Ports that are looked through for a name near to a declared one, at most. */
const namesMax = 4096;

/** Why nothing is known of a port that its node does not have. */
export function missingPort(ref: PortRef): Gap {
  const near = nearestName(ref);
  const hint = near === undefined ? '' : `; the nearest name is "${near}"`;
  const wanted = ref.nameless ? `no port found for "${ref.name}"` : `no port "${ref.name}"`;
  return gapOf('unsupported', cleanText(`the node has ${wanted}${hint}`), `port ${ref.id}`);
}

/** The node's own port name nearest to the declared one; undefined when the node has no ports. */
export function nearestName(ref: PortRef): string | undefined {
  const names = [...ref.node.ports.keys()].slice(0, namesMax);
  return names.length === 0 ? undefined : cleanText(closest(ref.name, names));
}
