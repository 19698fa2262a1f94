import { packetRange } from '../ethernet/mtu-clearance.ts';
import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { areDoubtful } from '../site/doubtful-mtu.ts';
import { isPhysical } from '../site/port-kind.ts';
import { indexSite } from '../site/site-index.ts';
import { stepsByNode, wantedMtus } from './apply-steps.ts';
import { layeredMtus } from './layered-mtus.ts';
import { type Layings, planLayings } from './laying.ts';
import type { Slot } from './pair-shape.ts';
import type { ChangeStep } from './types.ts';
import { replaced } from './unplug.ts';

/** A node that steps touch. */
interface TouchedNode {
  readonly survey?: NodeSurvey;
  /** Largest frame that is declared of a node that nobody reads. */
  readonly frameBytes?: number;
  readonly forwards: boolean;
  /** The owner vouches for the MTUs that it says. */
  readonly believed: boolean;
  /** Own names of the ports that make its MTUs doubtful where all say the same. */
  readonly physical: readonly string[];
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
  /** Indexes of the steps that join or part links. */
  readonly cords: readonly number[];
  /** The pairs once some of `cords` are moved; others in the list do not count. */
  readonly layingOf: Layings['of'];
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
  const after = steps.map((step) => step.after.flatMap((id) => at.get(id) ?? []));
  const laid = { intent, survey, segments, steps };
  const layings = planLayings(laid, after, { numberOf, slotOf, slots });
  const nodes = byNode.map(([name, own], node): TouchedNode => {
    const view = index.nodes.get(name);
    const { frameBytes } = view?.declared ?? {};
    return {
      ...(view?.gap !== undefined || view?.survey === undefined ? {} : { survey: view.survey }),
      ...(frameBytes === undefined ? {} : { frameBytes }),
      forwards: view?.forwards ?? false,
      believed: view?.declared.believe.includes('mtu') ?? false,
      physical: [...(view?.ports.values() ?? [])].flatMap(({ name, facts }) =>
        isPhysical(facts) ? [name] : [],
      ),
      steps: own.map((step) => at.get(step.id) ?? -1),
      slots: slots.flatMap((slot, each) => (slot.node === node ? [each] : [])),
    };
  });
  return {
    steps,
    after: layings.after,
    bounces: steps.map((step) => bouncesOf(step, index.linksOf.get(step.node)?.length ?? 0)),
    nodes,
    nodeOf: steps.map((step) => numberOf.get(step.node) ?? -1),
    slots,
    cords: layings.cords,
    layingOf: layings.of,
    slotsOf: steps.map((step) => slotsOfStep(step, nodes[numberOf.get(step.node) ?? -1], slots)),
  };
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

function bouncesOf({ disturbs, port, cord }: ChangeStep, links: number): number {
  if (disturbs === 'nothing') return 0;
  const isWhole = port === undefined && cord === undefined;
  return disturbs === 'node-reload' || disturbs === 'node-out' || isWhole ? Math.max(1, links) : 1;
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
  const isTold = touched.believed || device?.mtuBytes !== undefined || !touched.forwards;
  const doubtful =
    !isTold && areDoubtful(touched.physical.flatMap((name) => mtus?.get(name) ?? []));
  return touched.slots.map((at) => {
    const slot = model.slots[at];
    const mtu = slot?.portName === undefined ? frame : mtus?.get(slot.portName);
    if (slot === undefined || typeof mtu !== 'number') return Infinity;
    if (doubtful && slot.large && slot.portName !== undefined) return Infinity;
    const range = packetRange(mtu, slot.counting, slot.tags);
    return slot.portName === undefined ? range.atLeastBytes : range.atMostBytes;
  });
}
