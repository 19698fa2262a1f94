import type { Leaf } from './site-graph.ts';
import type { Box, PlacedLink } from './site-layout-types.ts';

/** Height of a row of the comb for each link of the node in it. */
const rowHeight = 15;
const leafHeightMin = 20;
const rowGap = 4;
const barWidth = 5;
const stubMin = 16;
const toothGap = 14;
/** Between the box of the hub and the first tooth. */
const neck = 10;

/** A comb, from the top right corner of the box of its hub, where its spine begins. */
export interface Comb {
  readonly width: number;
  readonly height: number;
  /** The spine and the teeth: they belong to the body of the hub. */
  readonly bars: readonly Box[];
  readonly boxes: ReadonlyMap<string, Box>;
  readonly links: ReadonlyMap<string, PlacedLink>;
}

/**
 * Nodes that hang on one hub, in columns from top to bottom: the body of the hub grows a spine with
 * a tooth for each column, and each link is a level line from a tooth to its node.
 */
export function combOf(leaves: readonly Leaf[], columns: number): Comb {
  const boxes = new Map<string, Box>();
  const links = new Map<string, PlacedLink>();
  if (leaves.length === 0) return { width: 0, height: 0, bars: [], boxes, links };
  const perColumn = Math.ceil(leaves.length / columns);
  const teeth = Math.ceil(leaves.length / perColumn);
  const mark = Math.max(...leaves.flatMap((leaf) => leaf.links.map(({ markWidth }) => markWidth)));
  const stub = Math.max(stubMin, mark + 8);
  const leafWidth = Math.max(...leaves.map(({ node }) => node.width));
  const pitch = barWidth + stub + leafWidth + toothGap;
  const spineY = teeth === 1 ? (heightOf(leaves[0]) - barWidth) / 2 : 0;
  const bars: Box[] = [
    { x: 0, y: spineY, width: neck + (teeth - 1) * pitch + barWidth, height: barWidth },
  ];
  let height = 0;
  for (let tooth = 0; tooth < teeth; tooth += 1) {
    const x = neck + tooth * pitch;
    let y = teeth === 1 ? 0 : barWidth + rowGap;
    let [start, end] = [spineY, spineY + barWidth];
    for (const leaf of leaves.slice(tooth * perColumn, (tooth + 1) * perColumn)) {
      const box = { x: x + barWidth + stub, y, width: leafWidth, height: heightOf(leaf) };
      boxes.set(leaf.node.id, box);
      for (const [at, link] of leaf.links.entries()) {
        const lineY = y + (box.height * (at + 0.5)) / leaf.links.length;
        links.set(link.id, stubOf({ from: x + barWidth, to: box.x, y: lineY }, link.markWidth));
        start = Math.min(start, lineY - 2);
        end = Math.max(end, lineY + 2);
      }
      y += box.height + rowGap;
    }
    bars.push({ x, y: start, width: barWidth, height: end - start });
    height = Math.max(height, y - rowGap);
  }
  return { width: neck + teeth * pitch - toothGap, height, bars, boxes, links };
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
    mark: { x: (from + to - markWidth) / 2, y: y - 6.5, width: markWidth, height: 13 },
  };
}
