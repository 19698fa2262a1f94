import { type MtuCounting, packetRange } from '../ethernet/mtu-clearance.ts';
import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { counting } from '../site/clearance.ts';
import type { HopPlan, PathPlan } from '../site/path-plan.ts';
import { planPaths } from '../site/plan-path.ts';
import { companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite } from '../site/site-index.ts';
import { applySteps, applyToIntent, stepsByNode, wantedMtus } from './apply-steps.ts';
import { layeredMtus } from './layered-mtus.ts';
import { type HopGroup, type PairCost, type PairShape, pairCost, type Slot } from './pair-shape.ts';
import { withSegmentPaths } from './segment-paths.ts';
import { addCosts, noCost } from './state-cost.ts';
import type { ChangeStep, StateCost } from './types.ts';
import { replaced } from './unplug.ts';

/** A node that steps touch. */
interface TouchedNode {
  readonly survey?: NodeSurvey;
  /** Largest frame that is declared of a node that nobody reads. */
  readonly frameBytes?: number;
  readonly forwards: boolean;
  /** Indexes of its steps. */
  readonly steps: readonly number[];
  readonly slots: readonly number[];
}

/** The pairs of ends under one laying of the cords. */
export interface Laying {
  /** Pairs that some step moves, alike ones together. */
  readonly shapes: readonly PairShape[];
  /** By slot, the indexes of the shapes that it is in. */
  readonly shapesAt: readonly (readonly number[])[];
  /** What all other pairs add to every state. */
  readonly constant: StateCost;
}

/** A site reduced to what the cost of a set of steps depends on. */
export interface OrderModel {
  readonly steps: readonly ChangeStep[];
  /** Indexes of the steps that must be done before each. */
  readonly after: readonly (readonly number[])[];
  /** Links that each step takes down for a moment. */
  readonly bounces: readonly number[];
  readonly nodes: readonly TouchedNode[];
  readonly nodeOf: readonly number[];
  readonly slots: readonly Slot[];
  /** Indexes of the steps that move cords. */
  readonly cords: readonly number[];
  /** The pairs once some of `cords` are moved; others in the list do not count. */
  readonly layingOf: (done: (step: number) => boolean) => Laying;
  /** By step, the slots that it may move. */
  readonly slotsOf: readonly (readonly number[])[];
}

/**
 * Reduces a site to its pairs of ends and, of each, the hops that `steps` move. `intent` is what is
 * declared after the change; `segments` are those that it changes.
 */
export function orderModel(
  intent: Intent,
  survey: Survey,
  {
    steps,
    segments,
  }: { readonly steps: readonly ChangeStep[]; readonly segments: readonly string[] },
): OrderModel {
  const index = indexSite(intent, survey, { strict: false });
  const byNode = [...stepsByNode(steps)];
  const slots: Slot[] = [];
  const slotKeys = new Map<string, number>();
  const numberOf = new Map(byNode.map(([name], at) => [name, at]));
  const slotOf = (slot: Slot): number => {
    const key = JSON.stringify(slot);
    const at = slotKeys.get(key) ?? slots.push(slot) - 1;
    slotKeys.set(key, at);
    return at;
  };
  const at = new Map(steps.map((step, each) => [step.id, each]));
  const cords = steps.flatMap(({ cord }, each) => (cord === undefined ? [] : [each]));
  const free = cords.length <= cordsFreeMax && intent.paths.length <= pathsFreeMax;
  const after = steps.map((step) => step.after.flatMap((id) => at.get(id) ?? []));
  const turns = free ? cords : inTurn(cords, after);
  // Pairs are shaped before they are counted by slot: every laying may add some.
  const shaped = layings(turns, free).map((done): readonly [string, PairShape[]] => {
    const moved = done.flatMap((each) => steps[each] ?? []);
    const laid = pathsLaid({ intent, survey, segments, steps }, moved);
    return [done.join(), shapesOf(laid, { numberOf, slotOf })];
  });
  const known = new Map(shaped.map(([key, shapes]) => [key, layingFrom(shapes, slots.length)]));
  const nodes = byNode.map(([name, own], node): TouchedNode => {
    const view = index.nodes.get(name);
    const { frameBytes } = view?.declared ?? {};
    return {
      ...(view?.gap !== undefined || view?.survey === undefined ? {} : { survey: view.survey }),
      ...(frameBytes === undefined ? {} : { frameBytes }),
      forwards: view?.forwards ?? false,
      steps: own.map((step) => at.get(step.id) ?? -1),
      slots: slots.flatMap((slot, each) => (slot.node === node ? [each] : [])),
    };
  });
  return {
    steps,
    after: free ? after : chained(after, turns),
    bounces: steps.map((step) => bouncesOf(step, index.linksOf.get(step.node)?.length ?? 0)),
    nodes,
    nodeOf: steps.map((step) => numberOf.get(step.node) ?? -1),
    slots,
    cords,
    layingOf: (done) => known.get(turns.filter(done).join()) ?? nothingLaid,
    slotsOf: steps.map((step) => slotsOfStep(step, nodes[numberOf.get(step.node) ?? -1], slots)),
  };
}

/** Moved cords of which all orders are tried; more are moved in the order of their ports. */
const cordsFreeMax = 5;
/** Declared paths up to which that is so: each laying of the cords plans all of them. */
const pathsFreeMax = 200;

const nothingLaid: Laying = { shapes: [], shapesAt: [], constant: noCost };

/** Every set of moved cords that can come about, each in the order of `turns`. */
function layings(turns: readonly number[], free: boolean): number[][] {
  if (!free) return Array.from({ length: turns.length + 1 }, (_, done) => turns.slice(0, done));
  return Array.from({ length: 2 ** turns.length }, (_, mask) =>
    turns.filter((_step, bit) => (mask & (1 << bit)) !== 0),
  );
}

/** Cords one after the other, each after those that it waits for. */
function inTurn(cords: readonly number[], after: OrderModel['after']): number[] {
  const left = new Set(cords);
  const turns: number[] = [];
  while (left.size > 0) {
    const next = [...left].find((cord) => !(after[cord] ?? []).some((each) => left.has(each)));
    // A circle has no order at all, which is found out later.
    if (next === undefined) return [...turns, ...left];
    turns.push(next);
    left.delete(next);
  }
  return turns;
}

function chained(after: OrderModel['after'], turns: readonly number[]): number[][] {
  return after.map((own, step) => {
    const before = turns[turns.indexOf(step) - 1];
    return before === undefined || own.includes(before) ? [...own] : [...own, before];
  });
}

interface Laid {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly segments: readonly string[];
  readonly steps: readonly ChangeStep[];
}

/** The pairs of all paths once the cords of `moved` are in their new places. */
function pathsLaid({ intent, survey, segments, steps }: Laid, moved: readonly ChangeStep[]) {
  const cords = steps.filter(({ cord }) => cord !== undefined);
  // Machines are told by the links that there are in the end, so that all states have the same pairs.
  const { paths } = withSegmentPaths(applyToIntent(intent, cords), segments);
  const now = { ...applyToIntent(intent, moved), paths };
  const index = indexSite(now, applySteps(intent, survey, moved), { strict: false });
  findMembers(index);
  return planPaths(index, companyOf(index).hearing);
}

function layingFrom(shaped: readonly PairShape[], slots: number): Laying {
  const isMoved = (shape: PairShape) => slotsIn(shape).length > 0;
  const shapes = shaped.filter(isMoved);
  return {
    shapes,
    shapesAt: shapesBySlot(shapes, slots),
    constant: constantOf(shaped.filter((shape) => !isMoved(shape))),
  };
}

function slotsIn(shape: PairShape): readonly number[] {
  const { from, to, belowFrom, belowTo, middle, router } = shape;
  const groups = [from, to, belowFrom, belowTo, middle, router];
  return [...new Set(groups.flatMap(({ slots }) => slots))];
}

/** On a switch only the port itself and the members of an aggregate move, else a whole stack may. */
function slotsOfStep(
  { port, portName = '' }: ChangeStep,
  node: TouchedNode | undefined,
  slots: readonly Slot[],
): readonly number[] {
  if (node === undefined || !node.forwards || port === undefined) return node?.slots ?? [];
  const members = node.survey?.ports.find(({ name }) => name === portName)?.facts.lowerPorts ?? [];
  const names = new Set([portName, ...members]);
  return node.slots.filter((at) => names.has(slots[at]?.portName ?? ''));
}

function shapesBySlot(shapes: readonly PairShape[], slots: number): number[][] {
  const found: number[][] = Array.from({ length: slots }, () => []);
  shapes.forEach((shape, at) => {
    for (const slot of slotsIn(shape)) found[slot]?.push(at);
  });
  return found;
}

function bouncesOf({ disturbs }: ChangeStep, links: number): number {
  if (disturbs === 'nothing') return 0;
  return disturbs === 'node-reload' || disturbs === 'node-out' ? Math.max(1, links) : 1;
}

function constantOf(shapes: readonly PairShape[]): StateCost {
  return shapes.reduce(
    (cost, shape) => addCosts(cost, weighed(shape, pairCost(shape, []))),
    noCost,
  );
}

/** What the pairs of one shape add to a state. */
export function weighed({ count }: PairShape, cost: PairCost): StateCost {
  return {
    pathsApart: cost.apart ? count : 0,
    pathsCut: cost.cut ? count : 0,
    pathsReduced: cost.reduced ? count : 0,
    clearanceLackBytes: cost.lackBytes * count,
    bounces: 0,
  };
}

interface Shaping {
  readonly numberOf: ReadonlyMap<string, number>;
  readonly slotOf: (slot: Slot) => number;
}

/** The pairs of all paths, alike ones counted together. */
function shapesOf(plans: readonly PathPlan[], shaping: Shaping): PairShape[] {
  const counted = new Map<string, { shape: PairShape; count: number }>();
  for (const plan of plans) {
    const shape = shapeOf(plan, shaping);
    const key = JSON.stringify(shape, (_, value: unknown) => (value === Infinity ? 'inf' : value));
    const known = counted.get(key);
    if (known === undefined) counted.set(key, { shape, count: 1 });
    else known.count += 1;
  }
  return [...counted.values()].map(({ shape, count }) => ({ ...shape, count }));
}

function shapeOf({ hops, mtuBytes, connected }: PathPlan, shaping: Shaping): PairShape {
  const from = hops.filter(({ position }) => position === 'from');
  const to = hops.filter(({ position }) => position === 'to');
  const routers = hops.filter(({ position }) => position === 'router');
  const switches = hops.filter(({ position }) => position === 'switch');
  const [sending, belowFrom] = splitEnd(from);
  const [taking, belowTo] = splitEnd(to);
  return {
    count: 1,
    joined: connected,
    ...(mtuBytes === undefined ? {} : { declaredBytes: mtuBytes }),
    routed: routers.length > 0,
    from: groupOf(sending, shaping),
    to: groupOf(taking, shaping),
    belowFrom: groupOf(belowFrom, shaping),
    belowTo: groupOf(belowTo, shaping),
    middle: groupOf(switches, shaping),
    router: groupOf(routers, shaping),
  };
}

/** Interfaces that send, and what is below them; all send where none is known to have an address. */
function splitEnd(hops: readonly HopPlan[]): [HopPlan[], HopPlan[]] {
  const isAddressed = ({ ref }: HopPlan) => (ref.survey?.facts.addresses ?? []).length > 0;
  const addressed = hops.filter(isAddressed);
  if (addressed.length === 0) return [[...hops], []];
  return [addressed, hops.filter((hop) => !isAddressed(hop))];
}

function groupOf(hops: readonly HopPlan[], shaping: Shaping): HopGroup {
  let leastBytes = Infinity;
  const slots = new Set<number>();
  for (const hop of hops) {
    const slot = slotFor(hop, shaping.numberOf);
    if (slot === undefined) leastBytes = Math.min(leastBytes, fixedBytes(hop));
    else slots.add(shaping.slotOf(slot));
  }
  return { leastBytes, slots: [...slots].sort((a, b) => a - b) };
}

function slotFor({ ref, tags = 0 }: HopPlan, numberOf: ReadonlyMap<string, number>) {
  const node = numberOf.get(ref.node.declared.name);
  if (node === undefined) return undefined;
  if (ref.node.onWord) return { node, counting: 'header-fcs' as MtuCounting, tags };
  if (ref.node.gap !== undefined || ref.survey === undefined) return undefined;
  return { node, portName: ref.survey.name, counting: counting(ref), tags };
}

function fixedBytes({ ref, tags = 0 }: HopPlan): number {
  const { frameBytes } = ref.node.declared;
  if (ref.node.onWord)
    return frameBytes === undefined
      ? Infinity
      : packetRange(frameBytes, 'header-fcs', tags).atLeastBytes;
  const mtuBytes = ref.node.gap === undefined ? ref.survey?.facts.mtuBytes : undefined;
  return mtuBytes === undefined ? Infinity : packetRange(mtuBytes, counting(ref), tags).atMostBytes;
}

/** IP packet that each slot of a node passes once some of its steps are done, in their order. */
export function slotBytesOf(model: OrderModel, node: number, done: readonly number[]): number[] {
  const touched = model.nodes[node];
  if (touched === undefined) return [];
  const steps = done.flatMap((at) => model.steps[at] ?? []);
  const device = steps.find(({ arrives }) => arrives !== undefined)?.arrives;
  const survey = touched.survey && device ? replaced(touched.survey, device) : touched.survey;
  const mtus =
    survey === undefined
      ? undefined
      : layeredMtus(survey, wantedMtus(survey, steps), touched.forwards);
  const own = device === undefined ? touched.frameBytes : device.mtuBytes;
  const frame = steps.find(({ setting }) => setting === 'mtu')?.to ?? own;
  return touched.slots.map((at) => {
    const slot = model.slots[at];
    const mtu = slot?.portName === undefined ? frame : mtus?.get(slot.portName);
    if (slot === undefined || typeof mtu !== 'number') return Infinity;
    const range = packetRange(mtu, slot.counting, slot.tags);
    return slot.portName === undefined ? range.atLeastBytes : range.atMostBytes;
  });
}
