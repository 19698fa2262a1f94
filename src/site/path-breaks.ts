import type { Hop, SitePath } from './types.ts';

/** Hops of a path of which something is wrong, and whether the path can do without their links. */
export interface PathBreak {
  /** Ids of the ports, in drawing order. */
  readonly ports: readonly string[];
  /** The declared links that are left still join the ends: a spare way, or another member. */
  readonly spare: boolean;
}

/** What `isBad` finds on a path; undefined: nothing. */
export function breakOf(path: SitePath, isBad: (hop: Hop) => boolean): PathBreak | undefined {
  const bad = path.hops.filter(isBad);
  if (bad.length === 0) return undefined;
  const lost = new Set(bad.map(({ linkId }) => linkId));
  const left = path.hops.filter(({ linkId }) => linkId !== undefined && !lost.has(linkId));
  return { ports: [...new Set(bad.map(({ port }) => port.id))], spare: joins(left, path) };
}

/** Whether links, each of the nodes of its hops, lead from one end to the other. */
function joins(hops: readonly Hop[], { from, to }: Pick<SitePath, 'from' | 'to'>): boolean {
  const nodesOf = new Map<string, string[]>();
  for (const { linkId = '', port } of hops) {
    nodesOf.set(linkId, [...(nodesOf.get(linkId) ?? []), port.node]);
  }
  const reached = new Set([from]);
  for (const _ of nodesOf) {
    for (const nodes of nodesOf.values()) {
      if (nodes.some((node) => reached.has(node))) for (const node of nodes) reached.add(node);
    }
  }
  return reached.has(to);
}
