import type { Joint, PathGraph, Spot } from './path-spots.ts';

/** A joint as a lane runs along it, from left to right. */
export interface Step {
  readonly joint: Joint;
  readonly to: Spot;
}

/**
 * One line of a drawing: spots one after the other. The first lane leads from end to end. Every
 * other one parts from a spot of the lanes before it and joins them again; only the spots between
 * are its own.
 */
export interface Lane {
  readonly start: Spot;
  readonly steps: readonly Step[];
}

/** A path laid out: its lanes, and its spots in an order in which every lane only goes forward. */
export interface PathLanes {
  readonly lanes: readonly Lane[];
  readonly order: readonly Spot[];
}

/** Steps that cost more than any number of others, so that they are taken only without a choice. */
const idleCost = 1_000;
const undeclaredCost = 1_000_000;
/** More for a cord between two nodes as far from the start: it leads nowhere nearer to the end. */
const levelCost = 0.5;

/**
 * Parts the graph of a path into lanes (an ear decomposition: Whitney 1932): the way in use now, as
 * far as that is known, then what remains, each lane from spots that stand to spots that stand.
 */
export function pathLanes({ spots, joints }: PathGraph): PathLanes {
  const [start] = spots;
  const end = spots.at(-1);
  if (start === undefined || end === undefined) return { lanes: [], order: [] };
  const left = new Set(joints);
  const main = { start, steps: start === end ? [] : route(left, start, (spot) => spot === end) };
  const lanes: Lane[] = [main];
  const order: Spot[] = [start, ...main.steps.map(({ to }) => to)];
  for (const { joint } of main.steps) left.delete(joint);
  while (left.size > 0) {
    const ear = nextEar(left, order);
    if (ear === undefined) break;
    for (const { joint } of ear.steps) left.delete(joint);
    lanes.push(enter(ear, order));
  }
  return { lanes, order };
}

/** The ear that parts first; one that ends where it began, or nowhere, only where no other is left. */
function nextEar(left: ReadonlySet<Joint>, order: readonly Spot[]): Lane | undefined {
  let poor: Lane | undefined;
  for (const start of order) {
    for (const first of left) {
      const to = across(first, start);
      if (to === undefined) continue;
      const rest = new Set([...left].filter((joint) => across(joint, start) === undefined));
      const stands = (spot: Spot) => spot !== start && order.includes(spot);
      const more = stands(to) ? [] : route(rest, to, stands);
      const steps = [{ joint: first, to }, ...more];
      if (stands(steps.at(-1)?.to ?? to)) return { start, steps };
      poor ??= { start, steps };
    }
  }
  return poor;
}

/** Puts an ear's own spots into the order before its end, turned so that it goes forward. */
function enter(ear: Lane, order: Spot[]): Lane {
  const end = ear.steps.at(-1)?.to ?? ear.start;
  const at = order.indexOf(end);
  const lane = at !== -1 && at < order.indexOf(ear.start) ? turned(ear, end) : ear;
  const own = lane.steps.map(({ to }) => to).filter((spot) => !order.includes(spot));
  const place = order.indexOf(lane.steps.at(-1)?.to ?? lane.start);
  order.splice(place === -1 ? order.indexOf(lane.start) + 1 : place, 0, ...own);
  return lane;
}

function turned({ start, steps }: Lane, end: Spot): Lane {
  const spots = [start, ...steps.map(({ to }) => to)];
  return {
    start: end,
    steps: steps.map(({ joint }, at) => ({ joint, to: spots[at] ?? start })).toReversed(),
  };
}

/** The cheapest steps from a spot to one that is wanted; empty: there are none. */
function route(
  joints: ReadonlySet<Joint>,
  start: Spot,
  wanted: (spot: Spot) => boolean,
): readonly Step[] {
  const around = new Map<Spot, Joint[]>();
  for (const joint of joints)
    for (const spot of [joint.near, joint.far])
      around.set(spot, [...(around.get(spot) ?? []), joint]);
  const found = new Map<Spot, { readonly cost: number; readonly steps: readonly Step[] }>();
  const open = new Map([[start, { cost: 0, steps: [] as readonly Step[] }]]);
  while (open.size > 0) {
    const [spot, best] = [...open].reduce((a, b) => (b[1].cost < a[1].cost ? b : a));
    if (wanted(spot)) return best.steps;
    open.delete(spot);
    found.set(spot, best);
    for (const joint of around.get(spot) ?? []) {
      const to = across(joint, spot);
      const cost = best.cost + costOf(joint);
      if (to === undefined || found.has(to) || (open.get(to)?.cost ?? Infinity) <= cost) continue;
      open.set(to, { cost, steps: [...best.steps, { joint, to }] });
    }
  }
  return [];
}

function across({ near, far }: Joint, spot: Spot): Spot | undefined {
  return spot === near ? far : spot === far ? near : undefined;
}

function costOf({ link, near, far }: Joint): number {
  if (link === undefined) return undeclaredCost;
  const idle = [link.near, link.far].some(
    ({ inUse, port }) => inUse === false || port.subject.facts['operUp'] === false,
  );
  return (idle ? idleCost : 1) + (near.distance === far.distance ? levelCost : 0);
}
