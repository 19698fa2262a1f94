import { markHeight, tieRoom } from './comb-measures.ts';
import type { Part, Strand } from './island-parts.ts';
import { leftY, type Placed, rightY } from './placed-part.ts';
import type { PlacedLink, Point } from './site-layout-types.ts';
import type { Column } from './tier-columns.ts';

/** The parts of an island where they stand. */
export interface Sheet {
  readonly placed: ReadonlyMap<Part, Placed>;
  readonly columns: readonly Column[];
}

/** The way of a link between hubs, with its mark before the end on the right, or the lower one. */
export function routeOf(strand: Strand, sheet: Sheet): PlacedLink {
  const [first, second] = strand.parts;
  const points =
    first.tier === second.tier ? withinTier(strand, sheet) : acrossTiers(strand, sheet);
  const { markWidth } = strand.link;
  const end = points.at(-1) ?? { x: 0, y: 0 };
  const mark = {
    x: end.x - markWidth - tieRoom,
    y: end.y - markHeight / 2,
    width: markWidth,
    height: markHeight,
  };
  return { points, mark };
}

function withinTier(strand: Strand, { placed, columns }: Sheet): Point[] {
  const [first, second] = strand.parts;
  const [upper, lower] = first.at <= second.at ? [first, second] : [second, first];
  const column = columns[upper.tier];
  const [a, b] = [placed.get(upper), placed.get(lower)];
  if (column === undefined || a === undefined || b === undefined) return [];
  const place = ({ slots }: Placed, isUpper: boolean) =>
    slots.left.findIndex((slot) => slot.strand === strand && slot.upper === isUpper);
  const [top, bottom] = [leftY(a, place(a, true)), leftY(b, place(b, false))];
  const x = column.trackOf(strand);
  return [
    { x: column.left, y: top },
    { x, y: top },
    { x, y: bottom },
    { x: column.left, y: bottom },
  ];
}

function acrossTiers(strand: Strand, { placed, columns }: Sheet): Point[] {
  return strand.parts.flatMap((part): Point[] => {
    const [each, column] = [placed.get(part), columns[part.tier]];
    if (each === undefined || column === undefined) return [];
    const place = (slots: Placed['slots']['left']) =>
      slots.findIndex((slot) => slot.strand === strand);
    const [left, right] = [place(each.slots.left), place(each.slots.right)];
    const start = { x: column.left + column.boxWidth, y: rightY(each, right) };
    const out = { x: column.fanStart, y: rightY(each, right) };
    const level = { x: column.fanEnd, y: leftY(each, left) };
    if (left === -1) return [start, out];
    return right === -1 ? [level, { x: column.left, y: level.y }] : [level, out];
  });
}
