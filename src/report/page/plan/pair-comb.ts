import {
  barWidth,
  leafHeightMin,
  markHeight,
  rowGap,
  rowHeight,
  stubMin,
  tieRoom,
} from './comb-measures.ts';
import type { Comb } from './site-comb.ts';
import type { LayoutLink, Leaf } from './site-graph.ts';
import type { Box, PlacedLink } from './site-layout-types.ts';

/** Between a spine and the first row, and between the last and the other spine. */
const spineGap = rowGap + 2;
const toothGap = 16;
const neck = 6;

/** Two combs that reach into each other, and what hangs between their teeth. */
export interface PairComb extends Comb {
  /** Spine and teeth of the upper hub. */
  readonly upperBars: readonly Box[];
  readonly lowerBars: readonly Box[];
}

/**
 * Nodes between two combs, in columns: the spine of the upper hub above them with teeth on their
 * left, that of the lower one below with teeth on their right. `isUpper` tells whose a link is.
 */
export function pairCombOf(
  leaves: readonly Leaf[],
  columns: number,
  isUpper: (link: LayoutLink) => boolean,
): PairComb {
  const perColumn = Math.ceil(leaves.length / columns);
  const sides = leaves.map((leaf) => sidesOf(leaf, isUpper));
  const lots: Sides[][] = [];
  for (let at = 0; at < sides.length; at += perColumn) lots.push(sides.slice(at, at + perColumn));
  const rows = Math.max(...lots.map((lot) => lot.reduce((sum, each) => sum + each.height, 0)));
  const height = rows + (perColumn - 1) * rowGap + 2 * (barWidth + spineGap);
  const found: Found = { boxes: new Map(), links: new Map(), uppers: [], lowers: [] };
  let x = neck;
  for (const lot of lots) x = placeLot(lot, { x, height }, found) + toothGap;
  return {
    width: x - toothGap,
    height,
    bars: [],
    upperBars: withSpine(found.uppers, 0),
    lowerBars: withSpine(found.lowers, height - barWidth),
    boxes: found.boxes,
    links: found.links,
  };
}

function withSpine(teeth: readonly Box[], y: number): Box[] {
  const end = (teeth.at(-1)?.x ?? 0) + barWidth;
  return [{ x: 0, y, width: end, height: barWidth }, ...teeth];
}

interface Sides {
  readonly leaf: Leaf;
  readonly upper: readonly LayoutLink[];
  readonly lower: readonly LayoutLink[];
  readonly height: number;
}

function sidesOf(leaf: Leaf, isUpper: (link: LayoutLink) => boolean): Sides {
  const upper = leaf.links.filter(isUpper);
  const lower = leaf.links.filter((link) => !isUpper(link));
  const height = Math.max(leafHeightMin, rowHeight * Math.max(upper.length, lower.length));
  return { leaf, upper, lower, height };
}

interface Found {
  readonly boxes: Map<string, Box>;
  readonly links: Map<string, PlacedLink>;
  readonly uppers: Box[];
  readonly lowers: Box[];
}

/** One column; gives the right edge of its lower tooth. */
function placeLot(
  lot: readonly Sides[],
  { x, height }: { readonly x: number; readonly height: number },
  { boxes, links, uppers, lowers }: Found,
): number {
  const left = x + barWidth + stubFor(lot.flatMap(({ upper }) => upper));
  const width = Math.max(...lot.map(({ leaf }) => leaf.node.width));
  const right = left + width;
  const end = right + stubFor(lot.flatMap(({ lower }) => lower));
  let y = barWidth + spineGap;
  let [lowest, highest] = [0, height];
  for (const { leaf, upper, lower, height: boxHeight } of lot) {
    const box = { x: left, y, width, height: boxHeight };
    boxes.set(leaf.node.id, box);
    for (const [at, link] of upper.entries()) {
      const lineY = y + (boxHeight * (at + 0.5)) / upper.length;
      const markX = left - tieRoom - link.markWidth;
      links.set(link.id, level([x + barWidth, left], { y: lineY, markX }, link));
      lowest = lineY + 2;
    }
    for (const [at, link] of lower.entries()) {
      const lineY = y + (boxHeight * (at + 0.5)) / lower.length;
      links.set(link.id, level([right, end], { y: lineY, markX: right + tieRoom }, link));
      highest = Math.min(highest, lineY - 2);
    }
    y += boxHeight + rowGap;
  }
  uppers.push({ x, y: 0, width: barWidth, height: lowest });
  lowers.push({ x: end, y: highest, width: barWidth, height: height - highest });
  return end + barWidth;
}

function stubFor(links: readonly LayoutLink[]): number {
  return Math.max(stubMin, ...links.map(({ markWidth }) => markWidth + tieRoom + 3));
}

function level(
  [from, to]: readonly [number, number],
  { y, markX }: { readonly y: number; readonly markX: number },
  { markWidth }: LayoutLink,
): PlacedLink {
  const points = [
    { x: from, y },
    { x: to, y },
  ];
  const mark = { x: markX, y: y - markHeight / 2, width: markWidth, height: markHeight };
  return { points, mark };
}
