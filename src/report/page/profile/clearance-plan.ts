import type { SitePath } from '../../../site/types.ts';
import type { LinkOf } from '../../link-rating.ts';
import { measures } from './clearance-measures.ts';
import { type ClearanceScale, clearanceScale } from './clearance-scale.ts';
import { slotsOf } from './clearance-slots.ts';
import { stopAt } from './clearance-stops.ts';
import { demandOf, type HopView, hopViewer, isFlagged } from './hop-view.ts';
import { laneLabels } from './lane-labels.ts';
import { pathLanes } from './path-lanes.ts';
import { type Joint, pathGraph, type Spot } from './path-spots.ts';

/** A hop in its place. */
export interface Cell {
  readonly view: HopView;
  readonly x: number;
  /** Words under the opening, and under the gauge. */
  readonly state: readonly string[];
  readonly rate: readonly string[];
}

/** What of a lane stands in one column: a node, or only the way that goes on through it. */
export interface Stop {
  readonly row: number;
  readonly spot?: Spot;
  /** The node was drawn in a row above, from which this lane parts or which it joins again. */
  readonly again: 'parts' | 'joins' | undefined;
  readonly cells: readonly Cell[];
  /** Edges of the node; of a way that goes through, of the column. */
  readonly left: number;
  readonly right: number;
  /** The joint to the right; absent: the lane ends here. */
  readonly next?: Joint;
  /** The node that it leads to. */
  readonly ahead?: string;
  /** Words of that joint, under the way, where it begins in this column. */
  readonly way: readonly string[];
}

/** A column of the drawing: what is as far from the start. */
export interface Column {
  readonly width: number;
  readonly stops: readonly Stop[];
}

/** A lane as a row, from the top of the drawing. */
export interface Row {
  readonly top: number;
  /** Why there is this row; absent for the first. */
  readonly label?: readonly string[];
  readonly band: number;
  readonly floor: number;
  readonly gauge: number;
  readonly bottom: number;
}

/** A path laid out. */
export interface ClearancePlan {
  readonly demandBytes: number | undefined;
  readonly scale: ClearanceScale;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** The highest speed that is drawn, in Mb/s; absent: none is known. */
  readonly fastestMbps?: number;
}

/** Lays a path out: a column for each node on the way, a row for each way beside the first. */
export function clearancePlan(path: SitePath, linkOf: LinkOf): ClearancePlan {
  const { lanes, order } = pathLanes(pathGraph(path));
  const viewOf = hopViewer(path, linkOf);
  const demandBytes = demandOf(path);
  const slots = slotsOf(lanes, order);
  const columns = slots.map((slot, at) => ({
    width: slot.width,
    stops: lanes.flatMap((lane, row) => stopAt(lane, row, { at, slot, slots, lanes, viewOf })),
  }));
  const labels = laneLabels(lanes, linkOf);
  const scale = clearanceScale(
    [
      demandBytes,
      ...path.hops.flatMap(({ clearance: c }) => [c.atLeastBytes, c.atMostBytes]),
    ].flatMap((bytes) => bytes ?? []),
  );
  const speeds = path.hops
    .flatMap((hop) => [hop.speedMbps, viewOf(hop).ratedMbps])
    .flatMap((mbps) => mbps ?? []);
  return {
    demandBytes,
    scale,
    columns,
    rows: rowsOf(columns, labels, scale.heightMax),
    ...(speeds.length === 0 ? {} : { fastestMbps: Math.max(...speeds) }),
  };
}

function rowsOf(
  columns: readonly Column[],
  labels: readonly (readonly string[] | undefined)[],
  heightMax: number,
): Row[] {
  let top = 0;
  return labels.map((label, row) => {
    const stops = columns.flatMap(({ stops }) => stops.filter((stop) => stop.row === row));
    const cells = stops.flatMap((stop) => stop.cells);
    const foot = Math.max(
      ...stops.map(({ way }) => way.length),
      ...cells.map(({ state }) => 2 + state.length),
    );
    const rates = Math.max(0, ...cells.map(({ rate }) => rate.length));
    const band = top + (label === undefined ? 2 : measures.label);
    const flag = cells.some(({ view }) => isFlagged(view)) ? measures.flag : measures.noFlag;
    const floor = band + measures.band + flag + measures.wall + heightMax;
    const gauge = floor + 14 + foot * measures.line;
    const bottom = gauge + measures.gauge + 6 + rates * measures.line;
    const made = { top, ...(label === undefined ? {} : { label }), band, floor, gauge, bottom };
    top = bottom + 12;
    return made;
  });
}
