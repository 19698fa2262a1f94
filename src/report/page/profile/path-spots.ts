import type { RunPiece } from '../../../intent/types.ts';
import type { Hop, SitePath } from '../../../site/types.ts';

/** A node where a path comes by; a node that a path crosses twice is two spots. */
export interface Spot {
  readonly node: string;
  readonly distance: number;
  /** Absent: no hop of it is known. */
  readonly position?: Hop['position'];
  /** Hops that are no end of a link with two ends: layers, and ports between which nothing is declared. */
  readonly within: readonly Hop[];
}

/** What joins two spots. */
export interface Joint {
  readonly near: Spot;
  readonly far: Spot;
  /** The hops at both ends; absent: nothing is declared between the two. */
  readonly link?: { readonly id: string; readonly near: Hop; readonly far: Hop };
}

/** The spots of a path, its first end first and its last one last, and all joints between them. */
export interface PathGraph {
  readonly spots: readonly Spot[];
  readonly joints: readonly Joint[];
}

/**
 * The hops of a path as a graph in which every spot can be reached: where no link joins one to those
 * before it, a joint without a link does.
 */
export function pathGraph(path: SitePath): PathGraph {
  const pairs = pairsOf(path.hops);
  const paired = new Set(pairs.flat());
  const spots = new Map<string, Spot & { readonly within: Hop[] }>();
  const add = (node: string, distance: number, position?: Hop['position']) => {
    const key = `${distance} ${node}`;
    const known = spots.get(key);
    if (known !== undefined) return known;
    const spot = { node, distance, ...(position === undefined ? {} : { position }), within: [] };
    spots.set(key, spot);
    return spot;
  };
  if (!path.hops.some(({ port }) => port.node === path.from)) add(path.from, 0);
  for (const hop of path.hops) {
    const spot = add(hop.port.node, hop.distance, hop.position);
    if (!paired.has(hop)) spot.within.push(hop);
  }
  const last = Math.max(0, ...path.hops.map(({ distance }) => distance));
  if (!path.hops.some(({ port }) => port.node === path.to)) add(path.to, last + 1);
  const joints = pairs.map(([near, far]) => ({
    near: add(near.port.node, near.distance),
    far: add(far.port.node, far.distance),
    link: { id: near.linkId ?? '', near, far },
  }));
  const ordered = inOrder([...spots.values()], path);
  return { spots: ordered, joints: [...joints, ...bridges(ordered, joints)] };
}

/** Both ends of each crossing of a link, the one nearer to the start first. */
function pairsOf(hops: readonly Hop[]): (readonly [Hop, Hop])[] {
  const byLink = new Map<string, Hop[]>();
  for (const hop of hops) {
    if (hop.linkId === undefined || hop.layer) continue;
    byLink.set(hop.linkId, [...(byLink.get(hop.linkId) ?? []), hop]);
  }
  return [...byLink.values()].flatMap((ends) => {
    const open = [...ends];
    const pairs: (readonly [Hop, Hop])[] = [];
    for (let near = open.shift(); near !== undefined; near = open.shift()) {
      const far = partnerOf(near, open);
      if (far === undefined) continue;
      open.splice(open.indexOf(far), 1);
      pairs.push([near, far]);
    }
    return pairs;
  });
}

/** A link that a path crosses twice has two ends for each end; the next one further away fits. */
function partnerOf(near: Hop, others: readonly Hop[]): Hop | undefined {
  const across = others.filter(
    ({ port, distance }) => port.node !== near.port.node && distance >= near.distance,
  );
  return across.find(({ distance }) => distance > near.distance) ?? across[0];
}

function inOrder(spots: readonly Spot[], { from, to }: SitePath): Spot[] {
  const sorted = spots.toSorted((a, b) => a.distance - b.distance);
  const first = sorted.find(({ node }) => node === from);
  const last = sorted.findLast((spot) => spot.node === to && spot !== first);
  const between = sorted.filter((spot) => spot !== first && spot !== last);
  return [first, ...between, last].flatMap((spot) => spot ?? []);
}

/** Joints without a link to each spot that cannot be reached from those before it. */
function bridges(spots: readonly Spot[], joints: readonly Joint[]): Joint[] {
  const groups = new Map(spots.map((spot, at) => [spot, at]));
  const merge = (a: Spot, b: Spot) => {
    const [kept, gone] = [groups.get(a), groups.get(b)];
    for (const [spot, group] of groups) if (group === gone) groups.set(spot, kept ?? 0);
  };
  for (const { near, far } of joints) merge(near, far);
  return spots.flatMap((far, at) => {
    const near = spots[at - 1];
    const [first] = spots;
    if (near === undefined || first === undefined) return [];
    if (groups.get(far) === groups.get(first)) return [];
    merge(first, far);
    return [{ near, far }];
  });
}

/** The pieces of a joint in the order in which one meets them who comes from `spot`. */
export function runFrom({ link, near }: Joint, spot: Spot): readonly RunPiece[] {
  if (link === undefined) return [];
  const there = link.near.runToNext;
  const run = there.length > 0 ? there : link.far.runToNext.toReversed();
  return near === spot ? run : run.toReversed();
}
