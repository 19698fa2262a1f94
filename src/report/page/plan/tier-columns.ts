import { tieRoom } from './comb-measures.ts';
import type { Strand } from './island-parts.ts';
import { leftY, type Placed } from './placed-part.ts';
import { type Shell, tracksOf } from './tier-tracks.ts';

const trackPitch = 9;
const fanMin = 40;
const fanMax = 120;
/** Width of a fan against the height of the island, so that lines do not run too steeply. */
const fanPerHeight = 1 / 6;
const markGap = tieRoom + 4;
/** Right of a tier its links run level for so long. */
const levelEnd = 6;

/** Horizontal measures of a tier. */
export interface Column {
  /** Where its links from the tier before are level again. */
  readonly fanEnd: number;
  /** Left edge of its boxes. */
  readonly left: number;
  readonly boxWidth: number;
  /** Right edge of its boxes and combs. */
  readonly right: number;
  /** Where its links to the tier after begin to fan out. */
  readonly fanStart: number;
  /** Where a link within the tier runs. */
  readonly trackOf: (strand: Strand) => number;
}

/** The measures of all tiers of an island that is so high. */
export function tierColumns(rows: readonly (readonly Placed[])[], height: number): Column[] {
  const columns: Column[] = [];
  for (const row of rows) {
    const start = columns.at(-1)?.fanStart;
    const fan = Math.min(fanMax, Math.max(fanMin, height * fanPerHeight));
    columns.push(columnOf(row, start === undefined ? 0 : start + fan));
  }
  return columns;
}

function columnOf(row: readonly Placed[], fanEnd: number): Column {
  const boxWidth = Math.max(0, ...row.map(({ part }) => part.hub?.node.width ?? 0));
  const met = row.flatMap(({ slots }) => slots.left.map(({ strand }) => strand.link.markWidth));
  const tracks = tracksOf(row.flatMap((each) => shellsOf(each, row)));
  const outermost = fanEnd + (tracks.count === 0 ? 0 : (tracks.count + 1) * trackPitch);
  const left = outermost + (met.length === 0 ? 0 : Math.max(...met) + markGap);
  const ends = row.map(({ comb, spine }) => spine(boxWidth).x + comb.width);
  const right = left + Math.max(boxWidth, ...ends);
  return {
    fanEnd,
    left,
    boxWidth,
    right,
    fanStart: right + levelEnd,
    trackOf: (strand) => outermost - ((tracks.of.get(strand) ?? 0) + 1) * trackPitch,
  };
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
