import type { IslandParts, Part } from './island-parts.ts';
import { routeOf, type Sheet } from './link-routes.ts';
import type { PairComb } from './pair-comb.ts';
import { type Slots, slotsOf } from './part-slots.ts';
import { measure, type Placed } from './placed-part.ts';
import {
  type Box,
  movedBox,
  movedLink,
  type PlacedLink,
  type Point,
  type SiteLayout,
} from './site-layout-types.ts';
import { type Column, tierColumns } from './tier-columns.ts';
import { spreadTiers } from './tier-spread.ts';

const tierGap = 10;
const none: Slots = { left: [], right: [] };

/** An island from its top left corner, with `combColumns` columns at most in each comb. */
export function layoutIsland({ tiers, strands }: IslandParts, combColumns: number): SiteLayout {
  const slots = slotsOf(strands);
  const placed = new Map<Part, Placed>();
  for (const part of tiers.flat())
    placed.set(part, measure(part, slots.get(part) ?? none, combColumns));
  const rows = tiers.map((tier) => tier.flatMap((part) => placed.get(part) ?? []));
  for (const each of rows.flat()) {
    const { before, after } = each.part;
    each.neighbours = [...before, ...after].flatMap((part) => placed.get(part) ?? []);
  }
  spreadTiers(rows, tierGap);
  const height = Math.max(...rows.flat().map((each) => each.top + each.height));
  const columns = tierColumns(rows, height);
  const found: Found = { boxes: new Map(), combs: new Map(), links: new Map(), limbs: [] };
  const sheet: Sheet = { placed, columns };
  for (const strand of strands) {
    const route = routeOf(strand, sheet);
    const [hub] = strand.link.ends;
    if (strand.link.limb === true) found.limbs.push({ hub, points: route.points });
    else found.links.set(strand.link.id, route);
  }
  for (const each of rows.flat()) putHub(each, columns[each.part.tier], found);
  return { width: columns.at(-1)?.right ?? 0, height, ...found };
}

interface Found {
  readonly boxes: Map<string, Box>;
  readonly combs: Map<string, Box[]>;
  readonly links: Map<string, PlacedLink>;
  readonly limbs: { readonly hub: string; readonly points: readonly Point[] }[];
}

function putHub(placed: Placed, column: Column | undefined, found: Found): void {
  const { part, top, comb, spine, pair, slots } = placed;
  if (part.hub === undefined || column === undefined) return;
  const from = spine(column.boxWidth);
  const by = { x: column.left + from.x, y: top + from.y };
  for (const [leaf, box] of comb.boxes) found.boxes.set(leaf, movedBox(box, by));
  for (const [link, each] of comb.links) found.links.set(link, movedLink(each, by));
  if (pair === undefined) putBody(placed, column, by, found);
  else putPair(pair, slots, by, found);
}

function putPair(pair: PairComb, slots: Slots, by: Point, found: Found): void {
  // Both limbs come from the left, the upper one first.
  const [upper, lower] = slots.left.map(({ strand }) => strand.link.ends[0]);
  addBars(
    found,
    upper,
    pair.upperBars.map((bar) => movedBox(bar, by)),
  );
  addBars(
    found,
    lower,
    pair.lowerBars.map((bar) => movedBox(bar, by)),
  );
}

function putBody(placed: Placed, { left, boxWidth }: Column, by: Point, found: Found): void {
  const { part, top, boxHeight, comb } = placed;
  const id = part.hub?.node.id;
  if (id === undefined) return;
  const bottom = top + boxHeight;
  found.boxes.set(id, { x: left, y: top, width: boxWidth, height: boxHeight });
  const bars = comb.bars.map((bar) => movedBox(bar, by));
  const [first] = bars;
  // From the box down to a comb below it.
  const reach =
    first !== undefined && by.y >= bottom
      ? { ...first, width: first.height, y: bottom, height: first.y - bottom }
      : undefined;
  addBars(found, id, reach === undefined ? bars : [...bars, reach]);
}

function addBars({ combs }: Found, hub: string | undefined, bars: readonly Box[]): void {
  if (hub === undefined || bars.length === 0) return;
  combs.set(hub, [...(combs.get(hub) ?? []), ...bars]);
}
