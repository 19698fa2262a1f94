import type { Gap } from '../facts/gap.ts';
import { partsOf } from './path-barriers.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import { raisedAt } from './raised-at.ts';
import type { Hop } from './types.ts';

/**
 * Enters whether what both ends send passes, on a path that carries what is declared: ends set
 * larger than the declared packet agree on larger ones over TCP (RFC 9293 3.7.1), and the first port
 * that is as small as declared drops them without a word.
 */
export function putSends(draft: Draft, hops: readonly Hop[]): void {
  if (draft.facts['carriesDeclaredMtu'] !== true) return;
  const { from, to, silent } = partsOf(hops);
  const sent = {
    atLeastBytes: Math.min(least(from, 'atLeastBytes', 0), least(to, 'atLeastBytes', 0)),
    atMostBytes: Math.min(least(from, 'atMostBytes', Infinity), least(to, 'atMostBytes', Infinity)),
  };
  const [small] = silent
    .filter(({ clearance }) => (clearance.atMostBytes ?? Infinity) < sent.atLeastBytes)
    .toSorted((a, b) => (a.clearance.atMostBytes ?? 0) - (b.clearance.atMostBytes ?? 0));
  const open = silent.find(({ clearance }) => (clearance.atLeastBytes ?? 0) < sent.atMostBytes);
  if (small !== undefined) {
    put(draft, 'passesWhatIsSent', false);
    put(draft, 'sentBytes', sent.atLeastBytes);
    put(draft, 'stallsAt', small.port.id);
    put(draft, 'stallsUntilRaised', raisedAt(small.port));
    put(draft, 'stallsAboveBytes', small.clearance.atMostBytes);
  } else put(draft, 'passesWhatIsSent', open === undefined ? true : undefined, gapAt(open, sent));
}

interface Sent {
  readonly atLeastBytes: number;
  readonly atMostBytes: number;
}

function least(
  hops: readonly Hop[],
  bound: 'atLeastBytes' | 'atMostBytes',
  absent: number,
): number {
  return Math.min(...hops.map(({ clearance }) => clearance[bound] ?? absent));
}

function gapAt(hop: Hop | undefined, { atMostBytes }: Sent): Gap | undefined {
  if (hop === undefined) return undefined;
  const { port, clearance } = hop;
  if (clearance.gap !== undefined) return clearance.gap;
  const larger = Number.isFinite(atMostBytes)
    ? `the ends send packets of ${atMostBytes} bytes`
    : 'what the ends send is not known';
  return gapOf(
    'doubtful',
    `${larger}, and whether ${port.id} passes them is not known`,
    `mtu ${port.id}`,
  );
}
