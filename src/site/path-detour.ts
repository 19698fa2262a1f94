import { liveMbps } from './link-speed-cause.ts';
import type { LinkRef } from './site-index.ts';
import { forwardsBySpanningTree, isBlocked } from './spanning-tree.ts';

/** What the spanning tree does to a path. */
export interface Detour {
  /** Ids of ports that it blocks. */
  readonly blockedPorts: readonly string[];
  /** Speeds of the fastest way that is up, and of the fastest that is open; absent: not known. */
  readonly bestMbps?: number;
  readonly openMbps?: number;
  /** Absent: no way is up at all. */
  readonly takesBest?: boolean;
}

/**
 * Compares the ways that the spanning tree leaves open with all that are up. A blocked link of
 * which no speed is known counts as slow and an open one as fast, so that nobody is accused of a
 * detour without knowing. Undefined where no spanning tree was read.
 */
export function detourOf(
  links: readonly LinkRef[],
  ends: { readonly from: string; readonly to: string },
): Detour | undefined {
  const ports = links.flatMap((link) => link.ends);
  if (ports.every((port) => forwardsBySpanningTree(port) === undefined)) return undefined;
  const up = links.filter((link) => link.ends.every((end) => end.survey?.facts.operUp !== false));
  const open = up.filter((link) => !isBlocked(link));
  const speedOf = (link: LinkRef) => speedMbps(link) ?? (isBlocked(link) ? 0 : Infinity);
  const best = widest(up, ends, speedOf);
  const now = widest(open, ends, speedOf);
  const blocked = ports.filter((port) => forwardsBySpanningTree(port) === false);
  return {
    blockedPorts: [...new Set(blocked.map((port) => port.id))],
    ...(best === undefined || best === 0 || best === Infinity ? {} : { bestMbps: best }),
    ...(now === undefined || now === Infinity ? {} : { openMbps: now }),
    ...(best === undefined ? {} : { takesBest: now !== undefined && now >= best }),
  };
}

function speedMbps(link: LinkRef): number | undefined {
  const live = link.ends.flatMap((end) => liveMbps(end) ?? []);
  return live.length > 0 ? Math.min(...live) : link.declared.speedMbps;
}

/** Speed of the slowest link on the best way; undefined: there is no way. Links are taken fastest
 * first until they join the ends (Kruskal 1956: the widest way lies in that tree). */
function widest(
  links: readonly LinkRef[],
  { from, to }: { readonly from: string; readonly to: string },
  speedOf: (link: LinkRef) => number,
): number | undefined {
  const group = new Map<string, string>();
  const rootOf = (node: string): string => {
    let root = node;
    for (let up = group.get(root); up !== undefined; up = group.get(root)) root = up;
    return root;
  };
  for (const link of links.toSorted((a, b) => speedOf(b) - speedOf(a) || 0)) {
    const [a, b] = link.ends.map((end) => rootOf(end.node.declared.name));
    if (a !== undefined && b !== undefined && a !== b) group.set(a, b);
    if (rootOf(from) === rootOf(to)) return speedOf(link);
  }
  return undefined;
}
