import { missingPort } from './missing-port.ts';
import { type Draft, put } from './provenance.ts';
import type { PortRef } from './site-index.ts';

/**
 * Whether a port that the intent names and gives the MAC address of still has that name: an
 * adapter that comes back is the same one by its address and may be called otherwise.
 */
export function putName(draft: Draft, ref: PortRef): void {
  const { node, survey } = ref;
  const { aliases } = node;
  const declared = aliases.declared.get(aliases.ofName.get(ref.name) ?? '');
  if (declared?.name === undefined || declared.mac === undefined) return;
  put(draft, 'declaredName', declared.name);
  const gap = node.gap ?? (survey === undefined ? missingPort(ref) : undefined);
  const same = survey?.name === declared.name || survey?.facts.alias === declared.name;
  put(draft, 'nameAsDeclared', gap === undefined ? same : undefined, gap);
}
