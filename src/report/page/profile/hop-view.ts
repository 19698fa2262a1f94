import type { Hop, SitePath } from '../../../site/types.ts';
import { type LinkOf, ratedOf } from '../../link-rating.ts';
import { measureOf } from '../../measure.ts';
import { type Stand, standOf } from '../../opening.ts';

/** A hop as it is drawn. */
export interface HopView {
  readonly hop: Hop;
  readonly stand: Stand;
  /** What its link is meant to run at, in Mb/s; absent: not known. */
  readonly ratedMbps?: number;
  /** The hop that limits what the path passes, where that says anything. */
  readonly narrowest: boolean;
  readonly slowest: boolean;
}

/** The packet that a path is declared to pass, in bytes; undefined: none is declared. */
export function demandOf({ subject: { facts } }: SitePath): number | undefined {
  const { declaredMtuBytes } = facts;
  return typeof declaredMtuBytes === 'number' ? declaredMtuBytes : undefined;
}

/** Looks at the hops of one path. */
export function hopViewer(path: SitePath, linkOf: LinkOf): (hop: Hop) => HopView {
  const demandBytes = demandOf(path);
  // No page has a width here, and no mark depends on it.
  const { markNarrowest, markSlowest } = measureOf(path, 80);
  return (hop) => {
    const ratedMbps = ratedOf(hop, linkOf);
    return {
      hop,
      stand: standOf(hop.clearance, demandBytes),
      ...(ratedMbps === undefined ? {} : { ratedMbps }),
      narrowest: hop.narrowest && markNarrowest,
      slowest: hop.slowest && markSlowest,
    };
  };
}

/** Whether a hop is to be seen before the others: the narrowest, and each that is too small. */
export function isFlagged({ stand, narrowest }: Pick<HopView, 'stand' | 'narrowest'>): boolean {
  return stand === 'too small' || narrowest;
}
