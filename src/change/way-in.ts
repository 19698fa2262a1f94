import { isIP } from 'node:net';
import { bareAddress } from '../site/addresses.ts';
import { stackBelow } from '../site/layers.ts';
import type { NodeView } from '../site/node-view.ts';

/**
 * The node's own names of the ports that carry the address by which it is read: the interface that
 * has it, and all that this stands on. Undefined where that is not known: it is read by a name and
 * has several addresses, or its addresses were not read.
 */
export function wayIn(node: NodeView): ReadonlySet<string> | undefined {
  const { at } = node.declared;
  const holders = [...node.ports.values()].filter(
    ({ facts }) => facts.kind !== 'loopback' && (facts.addresses ?? []).length > 0,
  );
  const literal = at !== undefined && isIP(at) !== 0;
  const holder = literal
    ? holders.find(({ facts }) => (facts.addresses ?? []).map(bareAddress).includes(at))
    : holders.length === 1
      ? holders[0]
      : undefined;
  return holder === undefined ? undefined : new Set(stackBelow(node, holder.name));
}
