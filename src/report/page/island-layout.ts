import type { IslandParts, Part, Strand } from './island-parts.ts';
import { type Slots, slotsOf } from './part-slots.ts';
import { type Comb, combOf } from './site-comb.ts';
import type { Box, PlacedLink, Point, SiteLayout } from './site-layout-types.ts';
import { type Spread, spreadTiers } from './tier-spread.ts';
import { type Shell, tracksOf } from './tier-tracks.ts';

const boxHeightMin = 24;
/** Between two links that meet a box on its left, where their marks are; and on its right. */
const leftPitch = 15;
const rightPitch = 7;
const tierGap = 12;
const passHeight = 8;
const trackPitch = 9;
const fanMin = 40;
const fanMax = 150;
/** Right of the words on a link: room for the tie of an aggregate. */
const tieRoom = 11;
const markGap = tieRoom + 4;
/** A comb below its box stands in by this much, and this far below. */
const indent = 8;
const below = 5;
/** From a box to the first tooth of a comb beside it. */
const neck = 10;

interface Placed extends Spread {
  readonly part: Part;
  readonly slots: Slots;
  readonly comb: Comb;
  /** Height of the box itself, without its comb. */
  readonly boxHeight: number;
  /** The left end of the spine of its comb, from the top left of the box. */
  readonly spine: (boxWidth: number) => Point;
  neighbours: Placed[];
}

/** Horizontal measures of a tier. */
interface Column {
  /** Where its links from the tier before are level again. */
  readonly fanEnd: number;
  /** Left edge of its boxes. */
  readonly left: number;
  readonly boxWidth: number;
  /** Right edge of its combs. */
  readonly right: number;
  readonly trackOf: (strand: Strand) => number;
}

const none: Slots = { left: [], right: [] };

/** An island from its top left corner, with `combColumns` columns at most in each comb. */
export function layoutIsland({ tiers, strands }: IslandParts, combColumns: number): SiteLayout {
  const slots = slotsOf(strands);
  const placed = new Map<Part, Placed>();
  for (const part of tiers.flat()) {
    placed.set(part, measure(part, slots.get(part) ?? none, combColumns));
  }
  const rows = tiers.map((tier) => tier.flatMap((part) => placed.get(part) ?? []));
  for (const each of rows.flat()) {
    const { before, after } = each.part;
    each.neighbours = [...before, ...after].flatMap((part) => placed.get(part) ?? []);
  }
  spreadTiers(rows, tierGap);
  const height = Math.max(...rows.flat().map((each) => each.top + each.height));
  const columns = columnsOf(rows, height);
  const boxes = new Map<string, Box>();
  const combs = new Map<string, readonly Box[]>();
  const links = new Map<string, PlacedLink>();
  for (const each of rows.flat()) putHub(each, columns[each.part.tier], { boxes, combs, links });
  for (const strand of strands) {
    links.set(strand.link.id, routeOf(strand, { placed, columns }));
  }
  return { width: columns.at(-1)?.right ?? 0, height, boxes, links, combs };
}

function measure(part: Part, slots: Slots, combColumns: number): Placed {
  // A comb stands beside its box, or below it where links leave on that side.
  const isBelow = slots.right.length > 0;
  const shape = { columns: combColumns, neck: isBelow ? 0 : neck };
  const comb = combOf(part.hub?.leaves ?? [], shape);
  const boxHeight =
    part.hub === undefined
      ? passHeight
      : Math.max(
          boxHeightMin,
          slots.left.length * leftPitch + 4,
          slots.right.length * rightPitch + 6,
        );
  const combTop = isBelow ? boxHeight + below : 2;
  return {
    part,
    slots,
    comb,
    top: 0,
    neighbours: [],
    height: comb.height === 0 ? boxHeight : Math.max(boxHeight, combTop + comb.height),
    middle: boxHeight / 2,
    boxHeight,
    spine: (boxWidth) => ({ x: isBelow ? indent : boxWidth, y: combTop }),
  };
}

function columnsOf(rows: readonly (readonly Placed[])[], height: number): Column[] {
  let x = 0;
  return rows.map((row, tier) => {
    const hubs = row.filter(({ part }) => part.hub !== undefined);
    const boxWidth = Math.max(0, ...hubs.map(({ part }) => part.hub?.node.width ?? 0));
    const marks = row.flatMap(({ slots }) => slots.left.map(({ strand }) => strand.link.markWidth));
    const tracks = tracksOf(row.flatMap((each) => shellsOf(each, row)));
    const trackWidth = tracks.count === 0 ? 0 : (tracks.count + 1) * trackPitch;
    const fanEnd = tier === 0 ? x : x + Math.min(fanMax, Math.max(fanMin, height / 6));
    const meets = row.some(({ slots }) => slots.left.length > 0);
    const left = fanEnd + trackWidth + (meets ? Math.max(0, ...marks) + markGap : 0);
    const ends = hubs.map(({ comb, spine }) => spine(boxWidth).x + comb.width);
    const right = left + Math.max(boxWidth, ...ends);
    const outermost = fanEnd + trackWidth;
    x = right + 6;
    return {
      fanEnd,
      left,
      boxWidth,
      right,
      trackOf: (strand) => outermost - ((tracks.of.get(strand) ?? 0) + 1) * trackPitch,
    };
  });
}

/** Links within the tier that begin at `placed`, the upper end. */
function shellsOf(placed: Placed, row: readonly Placed[]): Shell[] {
  return placed.slots.left.flatMap((slot, at) => {
    if (slot.other.tier !== placed.part.tier || !slot.upper) return [];
    const far = row.find(({ part }) => part === slot.other);
    const farAt = far?.slots.left.findIndex((each) => each.strand === slot.strand && !each.upper);
    if (far === undefined || farAt === undefined) return [];
    // A link that comes back to its own node has its upper end below.
    const ends = [leftY(placed, at), leftY(far, farAt)];
    return [{ strand: slot.strand, top: Math.min(...ends), bottom: Math.max(...ends) }];
  });
}

function leftY({ part, top, boxHeight, slots }: Placed, at: number): number {
  if (part.hub === undefined) return top + passHeight / 2;
  return top + boxHeight / 2 + (at - (slots.left.length - 1) / 2) * leftPitch;
}

function rightY({ part, top, boxHeight, slots }: Placed, at: number): number {
  if (part.hub === undefined) return top + passHeight / 2;
  return top + boxHeight / 2 + (at - (slots.right.length - 1) / 2) * rightPitch;
}

interface Found {
  readonly boxes: Map<string, Box>;
  readonly combs: Map<string, readonly Box[]>;
  readonly links: Map<string, PlacedLink>;
}

function putHub(
  { part, top, boxHeight, spine, comb }: Placed,
  column: Column | undefined,
  to: Found,
) {
  if (part.hub === undefined || column === undefined) return;
  const { id } = part.hub.node;
  const { left, boxWidth } = column;
  to.boxes.set(id, { x: left, y: top, width: boxWidth, height: boxHeight });
  const from = spine(boxWidth);
  const by = { x: left + from.x, y: top + from.y };
  const bars = comb.bars.map((bar) => movedBox(bar, by));
  // From the box down to a comb below it.
  const [first] = bars;
  if (first !== undefined && from.y >= boxHeight)
    bars.push({
      ...first,
      width: first.height,
      y: top + boxHeight,
      height: first.y - top - boxHeight,
    });
  if (bars.length > 0) to.combs.set(id, bars);
  for (const [leaf, box] of comb.boxes) to.boxes.set(leaf, movedBox(box, by));
  for (const [link, each] of comb.links) to.links.set(link, movedLink(each, by));
}

interface Sheet {
  readonly placed: ReadonlyMap<Part, Placed>;
  readonly columns: readonly Column[];
}

function routeOf(strand: Strand, sheet: Sheet): PlacedLink {
  const points =
    strand.parts[0].tier === strand.parts[1].tier
      ? withinTier(strand, sheet)
      : acrossTiers(strand, sheet);
  const { markWidth } = strand.link;
  const end = points.at(-1) ?? { x: 0, y: 0 };
  const mark = { x: end.x - markWidth - tieRoom, y: end.y - 6.5, width: markWidth, height: 13 };
  return { points, mark };
}

function withinTier(strand: Strand, { placed, columns }: Sheet): Point[] {
  const [first, second] = strand.parts;
  const [upper, lower] = first.at <= second.at ? [first, second] : [second, first];
  const column = columns[upper.tier];
  const [a, b] = [placed.get(upper), placed.get(lower)];
  if (column === undefined || a === undefined || b === undefined) return [];
  const indexOf = ({ slots }: Placed, isUpper: boolean) =>
    slots.left.findIndex((slot) => slot.strand === strand && slot.upper === isUpper);
  const [top, bottom] = [leftY(a, indexOf(a, true)), leftY(b, indexOf(b, false))];
  const x = column.trackOf(strand);
  return [
    { x: column.left, y: top },
    { x, y: top },
    { x, y: bottom },
    { x: column.left, y: bottom },
  ];
}

function acrossTiers(strand: Strand, { placed, columns }: Sheet): Point[] {
  const points: Point[] = [];
  for (const part of strand.parts) {
    const [each, column] = [placed.get(part), columns[part.tier]];
    if (each === undefined || column === undefined) continue;
    const index = (slots: Slots['left']) => slots.findIndex((slot) => slot.strand === strand);
    const [left, right] = [index(each.slots.left), index(each.slots.right)];
    if (left !== -1) points.push({ x: column.fanEnd, y: leftY(each, left) });
    if (left !== -1 && right === -1) points.push({ x: column.left, y: leftY(each, left) });
    if (left === -1) points.push({ x: column.left + column.boxWidth, y: rightY(each, right) });
    if (right !== -1) points.push({ x: column.right + 6, y: rightY(each, right) });
  }
  return points;
}

/** A box moved by `by`. */
export function movedBox(box: Box, by: Point): Box {
  return { ...box, x: box.x + by.x, y: box.y + by.y };
}

/** A link moved by `by`. */
export function movedLink({ points, mark }: PlacedLink, by: Point): PlacedLink {
  return {
    points: points.map(({ x, y }) => ({ x: x + by.x, y: y + by.y })),
    mark: movedBox(mark, by),
  };
}
