import type { ClearanceOf } from './clearance.ts';
import { breakOf } from './path-breaks.ts';
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
  const sized = hops.filter((hop) => hop.clearance.atMostBytes !== undefined);
  const timed = withoutIdle(plan, hops).filter((hop) => hop.speedMbps !== undefined);
  const narrowest = least(sized, byNarrowness);
  const slowest = least(timed, bySlowness);
  if (narrowest !== undefined) narrowest.narrowest = true;
  if (slowest !== undefined) slowest.slowest = true;
  return hops;
}

/** A way that is out of use slows nothing; where nothing else joins the ends, all of them count. */
function withoutIdle({ from, to }: PathPlan, hops: readonly HopDraft[]): readonly HopDraft[] {
  const ends = { from: from.declared.name, to: to.declared.name };
  const idle = breakOf({ ...ends, hops }, ({ inUse }) => inUse === false);
  return idle?.spare === true ? hops.filter(({ inUse }) => inUse !== false) : hops;
}

type HopDraft = { -readonly [K in keyof Hop]: Hop[K] };

function unmarked(
  plan: HopPlan,
  bytes: number | undefined,
  sitePortOf: (ref: PortRef) => SitePort,
  clearanceOf: ClearanceOf,
): HopDraft {
  const { ref, tags, linkId, inUse, idleBecause, way } = plan;
  const port = sitePortOf(ref);
  const hop: HopDraft = {
    port,
    clearance: clearanceOf(ref, { bytes, tags }),
    position: plan.position,
    distance: plan.distance,
    runToNext: plan.runToNext,
    layer: plan.layer,
    narrowest: false,
    slowest: false,
  };
  if (linkId !== undefined) hop.linkId = linkId;
  if (inUse !== undefined) hop.inUse = inUse;
  if (idleBecause !== undefined) hop.idleBecause = idleBecause;
  if (way !== undefined) hop.way = way;
  if (ref.node.onWord) return withHeard(hop);
  const read = ref.survey?.facts;
  // An interface without hardware claims speeds that mean nothing, and a dead link has none.
  if (read === undefined || !isPhysical(read) || read.operUp === false) return hop;
  const { speedMbps, duplex } = port.subject.facts;
  if (typeof speedMbps === 'number') hop.speedMbps = speedMbps;
  if (typeof duplex === 'string') hop.duplex = duplex;
  return hop;
}

/** What its partner runs at is the speed of a port that nobody reads. */
function withHeard(hop: HopDraft): HopDraft {
  const { heardSpeedMbps, heardDuplex } = hop.port.subject.facts;
  if (typeof heardSpeedMbps === 'number') hop.speedMbps = heardSpeedMbps;
  if (typeof heardDuplex === 'string') hop.duplex = heardDuplex;
  return hop;
}

/**
 * By the packet beyond which nothing passes, then by what passes for certain. What is only
 * declared comes last among equals: the owner's word alone accuses no hop.
 */
function byNarrowness({ clearance: a }: Hop, { clearance: b }: Hop): number {
  return (
    (a.atMostBytes ?? 0) - (b.atMostBytes ?? 0) ||
    Number(a.onWord) - Number(b.onWord) ||
    (a.atLeastBytes ?? 0) - (b.atLeastBytes ?? 0)
  );
}

/** What was read goes before what its partner tells of. */
function bySlowness(a: Hop, b: Hop): number {
  return (a.speedMbps ?? 0) - (b.speedMbps ?? 0) || Number(isHeard(a)) - Number(isHeard(b));
}

function isHeard({ port }: Hop): boolean {
  return port.survey === undefined;
}

/** The first of the least. */
function least(
  hops: readonly HopDraft[],
  compare: (a: Hop, b: Hop) => number,
): HopDraft | undefined {
  return hops.toSorted(compare)[0];
}
