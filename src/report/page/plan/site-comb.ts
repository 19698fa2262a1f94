import {
  barWidth,
  leafHeightMin,
  markHeight,
  rowGap,
  rowHeight,
  stubMin,
  tieRoom,
} from './comb-measures.ts';
import type { Leaf } from './site-graph.ts';
import type { Box, PlacedLink } from './site-layout-types.ts';

const toothGap = 14;

/** A comb, from the left end of its spine. */
export interface Comb {
  readonly width: number;
  readonly height: number;
  /** The spine and the teeth: they belong to the body of the hub. */
  readonly bars: readonly Box[];
  readonly boxes: ReadonlyMap<string, Box>;
  readonly links: ReadonlyMap<string, PlacedLink>;
}

/** How a comb is built. */
export interface CombShape {
  /** Teeth at most. */
  readonly columns: number;
  /** Length of the spine before the first tooth. */
  readonly neck: number;
}

/**
 * Nodes that hang on one hub, in columns from top to bottom: the body of the hub grows a spine with
 * a tooth for each column, and each link is a level line from a tooth to its node.
 */
export function combOf(leaves: readonly Leaf[], { columns, neck }: CombShape): Comb {
  const boxes = new Map<string, Box>();
  const links = new Map<string, PlacedLink>();
  if (leaves.length === 0) return { width: 0, height: 0, bars: [], boxes, links };
  const perColumn = Math.ceil(leaves.length / columns);
  const single = leaves.length <= perColumn;
  const spineY = single ? (heightOf(leaves[0]) - barWidth) / 2 : 0;
  const teeth: Box[] = [];
  let [x, height] = [neck, 0];
  for (let from = 0; from < leaves.length; from += perColumn) {
    const inTooth = leaves.slice(from, from + perColumn);
    const at = { x, top: single ? 0 : barWidth + rowGap, spineY };
    const tooth = placeTooth(inTooth, at, { boxes, links });
    teeth.push(tooth.bar);
    x += tooth.width + toothGap;
    height = Math.max(height, tooth.bottom);
  }
  const last = teeth.at(-1)?.x ?? neck;
  const spine = { x: 0, y: spineY, width: last + barWidth, height: barWidth };
  return { width: x - toothGap, height, bars: [spine, ...teeth], boxes, links };
}

interface Found {
  readonly boxes: Map<string, Box>;
  readonly links: Map<string, PlacedLink>;
}

function placeTooth(
  leaves: readonly Leaf[],
  { x, top, spineY }: { readonly x: number; readonly top: number; readonly spineY: number },
  { boxes, links }: Found,
): { readonly bar: Box; readonly width: number; readonly bottom: number } {
  const marks = leaves.flatMap((leaf) => leaf.links.map(({ markWidth }) => markWidth));
  const stub = Math.max(stubMin, Math.max(...marks) + tieRoom + 3);
  const width = Math.max(...leaves.map(({ node }) => node.width));
  let y = top;
  let [start, end] = [spineY, spineY + barWidth];
  for (const leaf of leaves) {
    const box = { x: x + barWidth + stub, y, width, height: heightOf(leaf) };
    boxes.set(leaf.node.id, box);
    for (const [at, link] of leaf.links.entries()) {
      const lineY = y + (box.height * (at + 0.5)) / leaf.links.length;
      links.set(link.id, stubOf({ from: x + barWidth, to: box.x, y: lineY }, link.markWidth));
      start = Math.min(start, lineY - 2);
      end = Math.max(end, lineY + 2);
    }
    y += box.height + rowGap;
  }
  const bar = { x, y: start, width: barWidth, height: end - start };
  return { bar, width: barWidth + stub + width, bottom: y - rowGap };
}

function heightOf(leaf: Leaf | undefined): number {
  return Math.max(leafHeightMin, rowHeight * (leaf?.links.length ?? 0));
}

interface Stub {
  readonly from: number;
  readonly to: number;
  readonly y: number;
}

function stubOf({ from, to, y }: Stub, markWidth: number): PlacedLink {
  return {
    points: [
      { x: from, y },
      { x: to, y },
    ],
    mark: {
      x: to - tieRoom - markWidth,
      y: y - markHeight / 2,
      width: markWidth,
      height: markHeight,
    },
  };
}
