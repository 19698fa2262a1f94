import type { Hub, Island, LayoutLink } from './site-graph.ts';
import { orderTiers, type TierItem } from './tier-order.ts';

/** A hub in its tier, or the place where a link passes through a tier. */
export interface Part extends TierItem {
  readonly tier: number;
  /** Absent: a link passes here. */
  readonly hub?: Hub;
  readonly before: Part[];
  readonly after: Part[];
  readonly beside: Part[];
}

/** A link between hubs with the parts that it joins, from left to right or within a tier. */
export interface Strand {
  readonly link: LayoutLink;
  /** At least two; more where it passes through tiers. Both of one tier: a link within it. */
  readonly parts: readonly [Part, Part, ...Part[]];
}

/** The tiers of an island in good order, and what runs between their parts. */
export interface IslandParts {
  readonly tiers: readonly (readonly Part[])[];
  readonly strands: readonly Strand[];
}

/** Puts the hubs of an island into tiers, each with the links that pass it, in good order. */
export function partsOf({ hubs, links }: Island): IslandParts {
  const levels = [...new Set(hubs.map(({ node }) => node.tier))].sort((a, b) => a - b);
  const tiers: Part[][] = levels.map(() => []);
  const add = (tier: number, hub?: Hub): Part => {
    const at = tiers[tier]?.length ?? 0;
    const part = { tier, at, before: [], after: [], beside: [], ...(hub && { hub }) };
    tiers[tier]?.push(part);
    return part;
  };
  const partOf = new Map(hubs.map((hub) => [hub.node.id, add(levels.indexOf(hub.node.tier), hub)]));
  const strands = links.flatMap((link): Strand[] => {
    const [a, b] = link.ends.map((id) => partOf.get(id));
    if (a === undefined || b === undefined) return [];
    const [left, right] = a.tier <= b.tier ? [a, b] : [b, a];
    const passed: Part[] = [];
    for (let tier = left.tier + 1; tier < right.tier; tier += 1) passed.push(add(tier));
    const parts = [left, ...passed, right] as unknown as Strand['parts'];
    join(parts);
    return [{ link, parts }];
  });
  return { tiers: orderTiers(tiers), strands };
}

function join(parts: readonly Part[]): void {
  for (const [at, part] of parts.entries()) {
    const next = parts[at + 1];
    if (next === undefined || next === part) continue;
    const beside = next.tier === part.tier;
    (beside ? part.beside : part.after).push(next);
    (beside ? next.beside : next.before).push(part);
  }
}
