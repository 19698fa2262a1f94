import { type Markup, markup } from '../markup.ts';
import { measures } from './clearance-measures.ts';
import type { Cell, Row } from './clearance-plan.ts';
import type { ClearanceScale } from './clearance-scale.ts';
import { hatch, short } from './hatch.ts';

/** In what an opening is drawn. */
export interface OpeningFrame {
  readonly row: Row;
  readonly scale: ClearanceScale;
  readonly demandBytes: number | undefined;
}

interface Sides {
  readonly left: number;
  readonly right: number;
  /** Top of the wall. */
  readonly top: number;
  readonly floor: number;
  readonly yOf: (bytes: number) => number;
}

/**
 * An opening: two jambs, a lintel at what passes at most and the wall above it. A range is hatched
 * from what passes for certain up to that; what is not known has no lintel and a question mark.
 * What the load strikes is filled and crossed.
 */
export function openingMarkup(cell: Cell, { row, scale, demandBytes }: OpeningFrame): Markup {
  const { view, x } = cell;
  const { atLeastBytes, atMostBytes } = view.hop.clearance;
  const sides: Sides = {
    left: x + 10,
    right: x + measures.hop - 10,
    top: short(row.floor - scale.heightMax - measures.wall),
    floor: short(row.floor),
    yOf: (bytes) => short(row.floor - scale.heightOf(bytes)),
  };
  const { left, right, top, floor } = sides;
  const jambs = markup`<path class="jamb" d="M${left} ${floor}V${top}M${right} ${floor}V${top}"/>`;
  if (atLeastBytes === undefined && atMostBytes === undefined)
    return markup`${jambs}<text class="unread" x="${(left + right) / 2}" y="${short(floor - scale.heightMax / 2 + 12)}">?</text>`;
  const most = atMostBytes === undefined ? undefined : lintel(sides, atMostBytes);
  const struck =
    view.stand === 'too small' && demandBytes !== undefined && atMostBytes !== undefined;
  return markup`${most}${rangeMarkup(sides, atLeastBytes, atMostBytes)}${jambs}${
    struck ? strikeMarkup(sides, sides.yOf(demandBytes), sides.yOf(atMostBytes)) : undefined
  }`;
}

function lintel({ left, right, top, yOf }: Sides, bytes: number): Markup {
  const y = yOf(bytes);
  return markup`<rect class="wall" x="${left}" y="${top}" width="${right - left}" height="${short(y - top)}"/><path class="lintel" d="M${left} ${y}H${right}"/>`;
}

function rangeMarkup(
  { left, right, top, floor, yOf }: Sides,
  least: number | undefined,
  most: number | undefined,
): Markup | undefined {
  if (least === most) return undefined;
  const upper = most === undefined ? top : yOf(most);
  const lower = least === undefined ? floor : yOf(least);
  const box = { x: left, y: upper, width: right - left, height: short(lower - upper) };
  const certain =
    least === undefined
      ? undefined
      : markup`<path class="certain" d="M${left} ${lower}H${right}"/>`;
  return markup`<path class="range" d="${hatch(box, 6)}"/>${certain}`;
}

function strikeMarkup({ left, right }: Sides, top: number, bottom: number): Markup {
  const box = { x: left, y: top, width: right - left, height: short(bottom - top) };
  return markup`<rect class="struck" x="${left}" y="${top}" width="${box.width}" height="${box.height}"/><path class="cross" d="${hatch(box, 12)}M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}"/>`;
}
