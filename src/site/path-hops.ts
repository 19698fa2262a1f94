import type { ClearanceOf } from './clearance.ts';
import type { HopPlan, PathPlan } from './path-plan.ts';
import { isPhysical } from './port-kind.ts';
import type { PortRef } from './site-index.ts';
import type { Hop, SitePort } from './types.ts';

/** The hops of a path with what each passes; the narrowest and the slowest marked. */
export function hopsOf(
  plan: PathPlan,
  sitePortOf: (ref: PortRef) => SitePort,
  clearanceOf: ClearanceOf,
): Hop[] {
  const hops = plan.hops.map((hop) => unmarked(hop, plan.mtuBytes, sitePortOf, clearanceOf));
  const narrowest = least(hops, narrowness);
  const slowest = least(hops, (hop) => (hop.speedMbps === undefined ? undefined : [hop.speedMbps]));
  return hops.map((hop, at) => ({
    ...hop,
    narrowest: at === narrowest,
    slowest: at === slowest,
  }));
}

function unmarked(
  { ref, tags, ...plan }: HopPlan,
  bytes: number | undefined,
  sitePortOf: (ref: PortRef) => SitePort,
  clearanceOf: ClearanceOf,
): Hop {
  const port = sitePortOf(ref);
  const read = ref.survey?.facts;
  // An interface without hardware claims speeds that mean nothing, and a dead link has none.
  const { speedMbps, duplex } = port.subject.facts;
  const told = read !== undefined && isPhysical(read) && read.operUp !== false;
  return {
    ...plan,
    port,
    clearance: clearanceOf(ref, { bytes, tags }),
    ...(told && typeof speedMbps === 'number' ? { speedMbps } : {}),
    ...(told && typeof duplex === 'string' ? { duplex } : {}),
    narrowest: false,
    slowest: false,
  };
}

/**
 * By the packet beyond which nothing passes, then by what passes for certain. What is only
 * declared comes last among equals: the owner's word alone accuses no hop.
 */
function narrowness({ clearance }: Hop): number[] | undefined {
  const { atMostBytes, atLeastBytes, onWord } = clearance;
  if (atMostBytes === undefined) return undefined;
  return [atMostBytes, Number(onWord), atLeastBytes ?? 0];
}

/** Index of the first hop with the least rank; -1 when none has any. */
function least(hops: readonly Hop[], rankOf: (hop: Hop) => number[] | undefined): number {
  let best: { readonly at: number; readonly rank: number[] } | undefined;
  hops.forEach((hop, at) => {
    const rank = rankOf(hop);
    if (rank !== undefined && (best === undefined || before(rank, best.rank))) best = { at, rank };
  });
  return best === undefined ? -1 : (best as { at: number }).at;
}

function before(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < a.length; i += 1) {
    const order = (a[i] ?? 0) - (b[i] ?? 0);
    if (order !== 0) return order < 0;
  }
  return false;
}
