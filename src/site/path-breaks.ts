/** Hops of a path of which something is wrong, and whether the path can do without their links. */
export interface PathBreak {
  /** Ids of the ports, in drawing order. */
  readonly ports: readonly string[];
  /** The declared links that are left still join the ends: a spare way, or another member. */
  readonly spare: boolean;
}

/** What of a hop tells of which link it is an end. */
interface LinkedHop {
  readonly linkId?: string;
  readonly port: { readonly id: string; readonly node: string };
}

interface LinkedPath<H extends LinkedHop> {
  readonly from: string;
  readonly to: string;
  readonly hops: readonly H[];
}

/** What `isBad` finds on a path; undefined: nothing. */
export function breakOf<H extends LinkedHop>(
  path: LinkedPath<H>,
  isBad: (hop: H) => boolean,
): PathBreak | undefined {
  const bad = path.hops.filter(isBad);
  if (bad.length === 0) return undefined;
  const lost = new Set(bad.map(({ linkId }) => linkId));
  const left = path.hops.filter(({ linkId }) => linkId !== undefined && !lost.has(linkId));
  return { ports: [...new Set(bad.map(({ port }) => port.id))], spare: joins(left, path) };
}

/** Whether links, each of the nodes of its hops, lead from one end to the other. */
function joins(
  hops: readonly LinkedHop[],
  { from, to }: { readonly from: string; readonly to: string },
): boolean {
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
