import type { Gap } from '../facts/gap.ts';
import { takesIn } from './path-barriers.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { Hop, SitePath } from './types.ts';

/**
 * Enters whether a router on the way must refuse or cut what the sender sends in full size. It
 * works only as long as the router's ICMP gets back (RFC 1191, RFC 8201). A small switch before
 * the router is another fault, and so is a small port by which packets come to it: both are silent.
 */
export function putRouted(draft: Draft, { hops }: SitePath, side: 'from' | 'to'): void {
  const coming = side === 'from' ? 'in' : 'out';
  const routers = hops.filter((hop) => hop.position === 'router' && !takesIn(hop, coming));
  if (routers.length === 0) return;
  const own = hops.filter(({ position }) => position === side);
  const gap = firstGap([...own, ...routers]);
  const sizes = own.flatMap(({ clearance }) => clearance.atLeastBytes ?? []);
  const senderBytes = gap === undefined && sizes.length > 0 ? Math.min(...sizes) : undefined;
  put(draft, 'senderBytes', senderBytes, gap);
  put(draft, 'routedWhole', undefined, gap);
  if (senderBytes === undefined) return;
  const small = routers
    .filter(({ clearance }) => (clearance.atMostBytes ?? senderBytes) < senderBytes)
    .toSorted((a, b) => (a.clearance.atMostBytes ?? 0) - (b.clearance.atMostBytes ?? 0))[0];
  put(draft, 'routedWhole', small === undefined);
  put(draft, 'shrinksAt', small?.port.id);
  put(draft, 'shrinksToBytes', small?.clearance.atMostBytes);
}

function firstGap(hops: readonly Hop[]): Gap | undefined {
  const hop = hops.find(({ clearance }) => clearance.atMostBytes === undefined);
  if (hop === undefined) return undefined;
  const { reason, words, cause } = hop.clearance.gap ?? gapOf('unasked', 'its MTU was not read');
  return gapOf(reason, `${hop.port.id}: ${words}`, cause);
}
