import { type MtuCounting, packetRange } from '../ethernet/mtu-clearance.ts';
import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { counting } from '../site/clearance.ts';
import type { HopPlan, PathPlan } from '../site/path-plan.ts';
import { planPaths } from '../site/plan-path.ts';
import { companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite } from '../site/site-index.ts';
import { stepsByNode, wantedMtus } from './apply-steps.ts';
import { layeredMtus } from './layered-mtus.ts';
import { type HopGroup, type PairShape, pairCost, type Slot } from './pair-shape.ts';
import { withSegmentPaths } from './segment-paths.ts';
import type { ChangeStep, StateCost } from './types.ts';

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
  /** Pairs that some step moves, alike ones together. */
  readonly shapes: readonly PairShape[];
  /** By slot, the indexes of the shapes that it is in. */
  readonly shapesAt: readonly (readonly number[])[];
  /** By step, the slots that it may move. */
  readonly slotsOf: readonly (readonly number[])[];
  /** What all other pairs add to every state. */
  readonly constant: StateCost;
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
  const index = indexSite(withSegmentPaths(intent, segments), survey, { strict: false });
  findMembers(index);
  const plans = planPaths(index, companyOf(index).hearing);
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
  const shaped = shapesOf(plans, { numberOf, slotOf });
  const isMoved = (shape: PairShape) => slotsIn(shape).length > 0;
  const moved = shaped.filter(isMoved);
  const at = new Map(steps.map((step, each) => [step.id, each]));
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
    after: steps.map((step) => step.after.flatMap((id) => at.get(id) ?? [])),
    bounces: steps.map((step) => bouncesOf(step, index.linksOf.get(step.node)?.length ?? 0)),
    nodes,
    nodeOf: steps.map((step) => numberOf.get(step.node) ?? -1),
    slots,
    shapes: moved,
    shapesAt: shapesBySlot(moved, slots.length),
    slotsOf: steps.map((step) => slotsOfStep(step, nodes[numberOf.get(step.node) ?? -1], slots)),
    constant: constantOf(shaped.filter((shape) => !isMoved(shape))),
  };
}

function slotsIn(shape: PairShape): readonly number[] {
  const { from, to, belowFrom, belowTo, middle, entry, router } = shape;
  const groups = [from, to, belowFrom, belowTo, middle, entry, router];
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
  return disturbs === 'node-reload' ? Math.max(1, links) : 1;
}

function constantOf(shapes: readonly PairShape[]): StateCost {
  let [pathsCut, pathsReduced, clearanceLackBytes] = [0, 0, 0];
  for (const shape of shapes) {
    const { cut, reduced, lackBytes } = pairCost(shape, []);
    pathsCut += cut ? shape.count : 0;
    pathsReduced += reduced ? shape.count : 0;
    clearanceLackBytes += lackBytes * shape.count;
  }
  return { pathsCut, pathsReduced, clearanceLackBytes, bounces: 0 };
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

function shapeOf({ hops, mtuBytes }: PathPlan, shaping: Shaping): PairShape {
  const from = hops.filter(({ position }) => position === 'from');
  const to = hops.filter(({ position }) => position === 'to');
  const routers = hops.filter(({ position }) => position === 'router');
  const entries = entriesOf(routers);
  const switches = hops.filter(({ position }) => position === 'switch');
  const [sending, belowFrom] = splitEnd(from);
  const [taking, belowTo] = splitEnd(to);
  return {
    count: 1,
    ...(mtuBytes === undefined ? {} : { declaredBytes: mtuBytes }),
    routed: routers.length > 0,
    from: groupOf(sending, shaping),
    to: groupOf(taking, shaping),
    belowFrom: groupOf(belowFrom, shaping),
    belowTo: groupOf(belowTo, shaping),
    middle: groupOf(switches, shaping),
    entry: groupOf(entries, shaping),
    router: groupOf(
      routers.filter((hop) => !entries.includes(hop)),
      shaping,
    ),
  };
}

/** Where the packets of an end come into the router next to it; what may be either counts as that. */
function entriesOf(routers: readonly HopPlan[]): HopPlan[] {
  const distances = routers.map(({ distance }) => distance);
  const [first, last] = [Math.min(...distances), Math.max(...distances)];
  return routers.filter(
    ({ distance, way }) =>
      (distance === first && way !== 'out') || (distance === last && way !== 'in'),
  );
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
  const { survey } = touched;
  const mtus =
    survey === undefined
      ? undefined
      : layeredMtus(survey, wantedMtus(survey, steps), touched.forwards);
  const frame = steps.find(({ setting }) => setting === 'mtu')?.to ?? touched.frameBytes;
  return touched.slots.map((at) => {
    const slot = model.slots[at];
    const mtu = slot?.portName === undefined ? frame : mtus?.get(slot.portName);
    if (slot === undefined || typeof mtu !== 'number') return Infinity;
    const range = packetRange(mtu, slot.counting, slot.tags);
    return slot.portName === undefined ? range.atLeastBytes : range.atMostBytes;
  });
}
