import type { Hop } from '../../../site/types.ts';
import { wrap } from '../../layout.ts';
import { hopColumns, measures, wayColumns } from './clearance-measures.ts';
import type { Cell, Stop } from './clearance-plan.ts';
import type { Slot } from './clearance-slots.ts';
import { rateLines, runLines, stateLines } from './hop-lines.ts';
import type { HopView } from './hop-view.ts';
import type { Lane } from './path-lanes.ts';
import { type Joint, runFrom, type Spot } from './path-spots.ts';

/** The column in which something is placed, and the whole. */
export interface Place {
  readonly at: number;
  readonly slot: Slot;
  readonly slots: readonly Slot[];
  readonly lanes: readonly Lane[];
  readonly viewOf: (hop: Hop) => HopView;
}

/** What of a lane stands in a column; nothing where the lane is not there. */
export function stopAt(lane: Lane, row: number, place: Place): Stop[] {
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
