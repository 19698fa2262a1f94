import type { Hop } from './types.ts';

/** Names of the nodes at the ends of a path. */
export interface EndNames {
  readonly from: string;
  readonly to: string;
}

/** The smallest packet of a part of the way, as far as known; the declared one where not. */
export interface Barrier {
  readonly bytes: number;
  /** Id of the port; empty: nothing there is small. */
  readonly port: string;
}

/** What stands in one direction. */
export interface DirectionBarriers {
  /** Drops what is larger without a word. */
  readonly silent: Barrier;
  /** Tells the sender by ICMP, or cuts. */
  readonly router: Barrier;
}

/** What keeps packets small on a path, by what happens to larger ones. */
export interface Barriers {
  /** Interfaces by which the ends announce their segments. */
  readonly from: Barrier;
  readonly to: Barrier;
  readonly there: DirectionBarriers;
  readonly back: DirectionBarriers;
}

type Test = (hop: Hop) => boolean;

/** Hops of a path by what they do to a packet that is too large, whichever way it goes. */
export interface HopParts {
  /** By which each end announces its segments. */
  readonly from: readonly Hop[];
  readonly to: readonly Hop[];
  /** Drop it without a word in one direction at least. */
  readonly silent: readonly Hop[];
}

/** Sorts the hops of a path, those left out that are known to be out of use. */
export function partsOf(hops: readonly Hop[]): HopParts {
  const used = hops.filter(({ inUse }) => inUse !== false);
  const announces = announcersOf(used);
  const at = (end: Hop['position']) =>
    used.filter((hop) => hop.position === end && announces.has(hop));
  return {
    from: at('from'),
    to: at('to'),
    silent: used.filter((hop) => drops(hop, announces, 'in') || drops(hop, announces, 'out')),
  };
}

function drops(hop: Hop, announces: ReadonlySet<Hop>, coming: Hop['way']): boolean {
  const isEnd = hop.position === 'from' || hop.position === 'to';
  return hop.position === 'switch' || (isEnd && !announces.has(hop)) || takesIn(hop, coming);
}

/** The barriers among the hops of a path that is to carry `declaredBytes`. */
export function barriersOf(hops: readonly Hop[], declaredBytes: number): Barriers {
  const smallest = (test: Test) => smallestOf(hops.filter(test), declaredBytes);
  const announces = announcersOf(hops);
  const along = (coming: Hop['way']) => ({
    silent: smallest((hop) => drops(hop, announces, coming)),
    router: smallest((hop) => hop.position === 'router' && !takesIn(hop, coming)),
  });
  return {
    from: smallest((hop) => hop.position === 'from' && announces.has(hop)),
    to: smallest((hop) => hop.position === 'to' && announces.has(hop)),
    there: along('in'),
    back: along('out'),
  };
}

/**
 * A port by which packets come to a router takes no longer frames than its MTU allows (common
 * practice; so do the ports of the lab); a layer above it does not look at what came in.
 */
export function takesIn({ position, layer, way }: Hop, coming: Hop['way']): boolean {
  return position === 'router' && !layer && way !== undefined && way === coming;
}

/**
 * Hops of each end by which it announces segments: the interfaces with an address; where none of
 * them is known to have one, all of its hops.
 */
function announcersOf(hops: readonly Hop[]): ReadonlySet<Hop> {
  return new Set(
    (['from', 'to'] as const).flatMap((end) => {
      const own = hops.filter(({ position }) => position === end);
      const addressed = own.filter(hasAddress);
      return addressed.length > 0 ? addressed : own;
    }),
  );
}

function hasAddress({ port }: Hop): boolean {
  return (port.survey?.facts.addresses ?? []).length > 0;
}

function smallestOf(hops: readonly Hop[], declaredBytes: number): Barrier {
  let found = { bytes: declaredBytes, port: '' };
  for (const { clearance, port } of hops) {
    const bytes = clearance.atMostBytes ?? declaredBytes;
    if (bytes < found.bytes) found = { bytes, port: port.id };
  }
  return found;
}
