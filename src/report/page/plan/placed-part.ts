import { barWidth, leafHeightMin, rowHeight } from './comb-measures.ts';
import type { Part } from './island-parts.ts';
import { type PairComb, pairCombOf } from './pair-comb.ts';
import type { Slots } from './part-slots.ts';
import { type Comb, combOf } from './site-comb.ts';
import type { LayoutLink } from './site-graph.ts';
import type { Point } from './site-layout-types.ts';
import type { Spread } from './tier-spread.ts';

const boxHeightMin = leafHeightMin + 4;
/** Between two links on the right of a box. */
const rightPitch = 7;
const passHeight = 8;
/** A comb below its box stands in by this much, and this far below. */
const indent = 8;
const below = 5;
/** From a box to the first tooth of a comb beside it. */
const neck = 10;

/** A part of a tier with its measures. */
export interface Placed extends Spread {
  readonly part: Part;
  readonly slots: Slots;
  readonly comb: Comb;
  /** Where it stands between two combs. */
  readonly pair?: PairComb;
  /** Height of the box itself, without its comb. */
  readonly boxHeight: number;
  /** The left end of the spine of its comb, from the top left of a box of that width. */
  readonly spine: (boxWidth: number) => Point;
  neighbours: Placed[];
}

/** Where the link in that place meets the part on its left, from the top of the island. */
export function leftY({ part, top, boxHeight, slots, pair }: Placed, at: number): number {
  if (part.hub === undefined) return top + passHeight / 2;
  if (pair !== undefined) return at === 0 ? top + barWidth / 2 : top + boxHeight - barWidth / 2;
  return top + boxHeight / 2 + (at - (slots.left.length - 1) / 2) * rowHeight;
}

/** Where the link in that place meets the part on its right. */
export function rightY({ part, top, boxHeight, slots }: Placed, at: number): number {
  if (part.hub === undefined) return top + passHeight / 2;
  return top + boxHeight / 2 + (at - (slots.right.length - 1) / 2) * rightPitch;
}

/** Measures a part: what stands in its comb, in so many columns, and room for its links. */
export function measure(part: Part, slots: Slots, columns: number): Placed {
  const base = { part, slots, top: 0, neighbours: [] };
  if (part.hub?.between !== undefined) {
    // Both limbs come from the left, the upper one first.
    const [upper] = slots.left.map(({ strand }) => strand.link.ends[0]);
    const isUpper = ({ ends }: LayoutLink) => upper !== undefined && ends.includes(upper);
    const pair = pairCombOf(part.hub.between, columns, isUpper);
    const { height } = pair;
    const spine = () => ({ x: 0, y: 0 });
    return { ...base, comb: pair, pair, height, middle: height / 2, boxHeight: height, spine };
  }
  // A comb stands beside its box, or below it where links leave on that side.
  const isBelow = slots.right.length > 0;
  const comb = combOf(part.hub?.leaves ?? [], { columns, neck: isBelow ? 0 : neck });
  const needed = [slots.left.length * rowHeight + 4, slots.right.length * rightPitch + 6];
  const boxHeight = part.hub === undefined ? passHeight : Math.max(boxHeightMin, ...needed);
  const combTop = isBelow ? boxHeight + below : 2;
  return {
    ...base,
    comb,
    height: comb.height === 0 ? boxHeight : Math.max(boxHeight, combTop + comb.height),
    middle: boxHeight / 2,
    boxHeight,
    spine: (boxWidth) => ({ x: isBelow ? indent : boxWidth, y: combTop }),
  };
}
