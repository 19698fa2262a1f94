import { layoutIsland } from './island-layout.ts';
import { type IslandParts, partsOf } from './island-parts.ts';
import { islandsOf, type LayoutGraph } from './site-graph.ts';
import {
  type Box,
  type Limb,
  movedBox,
  movedLink,
  movedPoints,
  type PlacedLink,
  type SiteLayout,
} from './site-layout-types.ts';
import { gatherPairs } from './site-pairs.ts';

const combColumnsMax = 4;
/** A drawing that is no higher than this, or than its width by this much, needs no wider combs. */
const heightFair = 560;
const heightPerWidth = 1.1;
/** Combs are not made wider than a wide screen for the sake of height. */
const widthFair = 1330;
/** Islands stand beside each other up to this width. */
const shelfWidth = 860;
const islandGap = 28;

/**
 * Places the nodes of a site in tiers from left to right, so that names, which are wide and low, can
 * stand in columns: nodes with one neighbour in the comb of it, islands one after the other. No two
 * boxes or marks overlap, and no link passes through the box of a node that it does not end at, by
 * the way they are put together. Pure: equal input gives an equal layout.
 */
export function layoutSite(graph: LayoutGraph): SiteLayout {
  const islands = islandsOf(graph).map(gatherPairs).map(partsOf);
  let best = shelve(islands, 1);
  for (let columns = 2; columns <= combColumnsMax; columns += 1) {
    if (best.height <= Math.max(heightFair, best.width * heightPerWidth)) break;
    const wider = shelve(islands, columns);
    if (wider.width > Math.max(widthFair, best.width)) break;
    best = wider;
  }
  return best;
}

function shelve(islands: readonly IslandParts[], combColumns: number): SiteLayout {
  const laid = islands.map((island) => layoutIsland(island, combColumns));
  const widest = Math.max(shelfWidth, ...laid.map(({ width }) => width));
  const boxes = new Map<string, Box>();
  const links = new Map<string, PlacedLink>();
  const combs = new Map<string, readonly Box[]>();
  const limbs: Limb[] = [];
  const used = { width: 0, height: 0 };
  let [x, y] = [0, 0];
  for (const island of laid) {
    if (x > 0 && x + island.width > widest) [x, y] = [0, used.height + islandGap];
    const by = { x, y };
    for (const [id, box] of island.boxes) boxes.set(id, movedBox(box, by));
    for (const [id, link] of island.links) links.set(id, movedLink(link, by));
    for (const [id, bars] of island.combs)
      combs.set(
        id,
        bars.map((bar) => movedBox(bar, by)),
      );
    for (const { hub, points } of island.limbs)
      limbs.push({ hub, points: movedPoints(points, by) });
    used.width = Math.max(used.width, x + island.width);
    used.height = Math.max(used.height, y + island.height);
    x += island.width + islandGap;
  }
  return { ...used, boxes, links, combs, limbs };
}
