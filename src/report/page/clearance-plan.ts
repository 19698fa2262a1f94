import type { Hop, SitePath } from '../../site/types.ts';
import { wrap } from '../layout.ts';
import type { LinkOf } from '../link-rating.ts';
import { type ClearanceScale, clearanceScale } from './clearance-scale.ts';
import { rateLines, runLines, stateLines } from './hop-lines.ts';
import { demandOf, type HopView, hopViewer, isFlagged } from './hop-view.ts';
import { laneLabels } from './lane-labels.ts';
import { type Lane, pathLanes } from './path-lanes.ts';
import { type Joint, pathGraph, runFrom, type Spot } from './path-spots.ts';

/** Measures in user units of the drawing, which are CSS pixels. */
export const measures = {
  /** Of one hop, and of what lies between two nodes. */
  hop: 96,
  way: 76,
  /** The scale at the left edge. */
  edge: 46,
  line: 13,
  /** The name of a node over its hops. */
  band: 20,
  /** Between it and the wall: the mark of a hop that strikes or is the narrowest, or nothing. */
  flag: 42,
  noFlag: 8,
  /** Wall above the highest opening. */
  wall: 12,
  /** The gauge of speeds. */
  gauge: 34,
  label: 30,
} as const;

/** Columns of text that fit into one hop. */
export const hopColumns = 14;
/** Columns of text that fit between two nodes. */
export const wayColumns = 12;

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

interface Slot {
  readonly spots: readonly Spot[];
  readonly left: number;
  readonly width: number;
  /** Hops that come in, that are within, and that go out, of the widest spot. */
  readonly entering: number;
  readonly within: number;
  readonly leaving: number;
}

function slotsOf(lanes: readonly Lane[], order: readonly Spot[]): Slot[] {
  const depth = new Map(order.map((spot) => [spot, 0]));
  const edges = lanes.flatMap(({ start, steps }) =>
    steps.map(({ joint, to }, at) => ({ joint, to, from: steps[at - 1]?.to ?? start })),
  );
  for (const spot of order)
    for (const { from, to } of edges)
      if (from === spot) depth.set(to, Math.max(depth.get(to) ?? 0, (depth.get(spot) ?? 0) + 1));
  const last = Math.max(0, ...depth.values());
  return Array.from({ length: last + 1 }, (_, at) => {
    const spots = order.filter((spot) => depth.get(spot) === at);
    const linked = edges.filter(({ joint }) => joint.link !== undefined);
    const entering = linked.some(({ to }) => spots.includes(to)) ? 1 : 0;
    const leaving = linked.some(({ from }) => spots.includes(from)) ? 1 : 0;
    const within = Math.max(
      entering + leaving === 0 ? 1 : 0,
      ...spots.map((spot) => spot.within.length),
    );
    const left = at === 0 ? measures.edge : 0;
    const width =
      left + (entering + within + leaving) * measures.hop + (at === last ? 4 : measures.way);
    return { spots, left, width, entering, within, leaving };
  });
}

interface Place {
  readonly at: number;
  readonly slot: Slot;
  readonly slots: readonly Slot[];
  readonly lanes: readonly Lane[];
  readonly viewOf: (hop: Hop) => HopView;
}

function stopAt(lane: Lane, row: number, place: Place): Stop[] {
  const { at, slot, slots } = place;
  const spots = [lane.start, ...lane.steps.map(({ to }) => to)];
  const columnOf = (spot: Spot) => slots.findIndex((each) => each.spots.includes(spot));
  const here = spots.findIndex((spot) => columnOf(spot) === at);
  const spot = spots[here];
  if (spot !== undefined) return [nodeStop(lane, { here, spot, row }, place)];
  const before = spots.findLastIndex((each) => columnOf(each) < at);
  const step = lane.steps[before];
  if (before === -1 || step === undefined) return [];
  const way = { next: step.joint, ahead: step.to.node, way: [] };
  return [{ row, again: undefined, cells: [], left: 0, right: slot.width, ...way }];
}

function nodeStop(
  lane: Lane,
  { here, spot, row }: { readonly here: number; readonly spot: Spot; readonly row: number },
  { slot, lanes, viewOf }: Place,
): Stop {
  const home =
    lanes.findIndex((each) => each.start === spot || each.steps.some(({ to }) => to === spot)) ===
    row;
  const came = lane.steps[here - 1]?.joint;
  const { joint: next, to } = lane.steps[here] ?? {};
  const x = (index: number) => slot.left + index * measures.hop;
  const cell = (hop: Hop, index: number): Cell => {
    const view = viewOf(hop);
    return {
      view,
      x: x(index),
      state: wrapped(stateLines(view), hopColumns),
      rate: wrapped(rateLines(view), hopColumns),
    };
  };
  const entering = endAt(came, spot);
  const leaving = endAt(next, spot);
  const cells = [
    ...(entering === undefined ? [] : [cell(entering, 0)]),
    ...(home ? spot.within.map((hop, index) => cell(hop, slot.entering + index)) : []),
    ...(leaving === undefined ? [] : [cell(leaving, slot.entering + slot.within)]),
  ];
  const right = x(slot.entering + slot.within + slot.leaving);
  const parts = here === 0;
  return {
    row,
    spot,
    again: home ? undefined : parts ? 'parts' : 'joins',
    cells,
    left: home || !parts ? slot.left : right - measures.hop,
    right: home || parts ? right : slot.left + measures.hop,
    ...(next === undefined || to === undefined ? {} : { next, ahead: to.node }),
    way: next === undefined ? [] : wrapped(wayLines(next, spot), wayColumns),
  };
}

function endAt(joint: Joint | undefined, spot: Spot): Hop | undefined {
  if (joint?.link === undefined) return undefined;
  return joint.near === spot ? joint.link.near : joint.link.far;
}

function wayLines(joint: Joint, spot: Spot): string[] {
  if (joint.link === undefined) return ['not declared what lies between'];
  return runLines(runFrom(joint, spot));
}

/** Longest text under one hop or way, in lines; what is longer is in the words of the drawing. */
const linesMax = 6;

function wrapped(lines: readonly string[], columns: number): string[] {
  const all = lines.flatMap((line) => wrap('', line.slice(0, columns * linesMax), columns));
  return all.length <= linesMax ? all : [...all.slice(0, linesMax - 1), '\u2026'];
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
