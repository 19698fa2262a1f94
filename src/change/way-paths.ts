import { framesPerSecondMax } from '../ethernet/frame-rate.ts';
import { frameBytes } from '../ethernet/frame-size.ts';
import { goodputMbps, usualStack } from '../ethernet/goodput.ts';
import { gapOf } from '../facts/subject.ts';
import type { Site, SitePath } from '../site/types.ts';
import type { WorkedOut } from './one-way.ts';
import type { PathCeiling, PathWays } from './ways-types.ts';

interface BothWays {
  readonly larger: WorkedOut;
  readonly smaller: WorkedOut;
}

/**
 * What both ways give every pair of ends declared over a segment, at the slowest speed that was
 * read on its path. Not known: that speed, the size of another segment on the path, or a way in
 * which a port of the path cannot follow.
 */
export function pathWays(site: Site, segment: string, both: BothWays): PathWays[] {
  const sizes = new Map(site.intent.segments.map(({ name, mtuBytes }) => [name, mtuBytes]));
  return site.paths
    .filter(({ declared }) => declared.over.includes(segment))
    .map((path) => {
      const others = path.declared.over.filter((name) => name !== segment);
      const unsized = others.find((name) => sizes.get(name) === undefined);
      const gap =
        unsized === undefined ? refusal(path, both) : `segment ${unsized} has no MTU declared`;
      const narrowest = Math.min(...others.flatMap((name) => sizes.get(name) ?? []));
      return { id: path.id, ...(gap === undefined ? ceilings(path, both, narrowest) : { gap }) };
    });
}

/** A port on the path that cannot follow in one of the ways. */
function refusal({ hops }: SitePath, { larger, smaller }: BothWays): string | undefined {
  for (const { way, refused } of [larger, smaller])
    for (const { port } of hops)
      for (const on of [port.id, port.node])
        if (refused.has(on)) return `${on} cannot follow to ${way.bytes}`;
  return undefined;
}

function ceilings(
  { subject }: SitePath,
  both: BothWays,
  narrowest: number,
): Pick<PathWays, 'ceilings' | 'gap'> {
  const { slowestMbps } = subject.facts;
  if (typeof slowestMbps !== 'number') {
    const words = gapOf(subject, 'slowestMbps')?.words ?? 'no reading tells it';
    return { gap: `its slowest speed is not known: ${words}` };
  }
  const larger = ceilingAt(slowestMbps, Math.min(both.larger.way.bytes, narrowest));
  const smaller = ceilingAt(slowestMbps, Math.min(both.smaller.way.bytes, narrowest));
  const gainPercent = (larger.goodputMbps / smaller.goodputMbps - 1) * 100;
  return { ceilings: { slowestMbps, larger, smaller, gainPercent } };
}

function ceilingAt(rateMbps: number, packetBytes: number): PathCeiling {
  return {
    packetBytes,
    goodputMbps: goodputMbps(rateMbps, packetBytes, usualStack),
    packetsPerSecond: framesPerSecondMax(rateMbps, frameBytes(packetBytes)),
  };
}
