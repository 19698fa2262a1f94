import { type MtuCounting, packetRange } from '../ethernet/mtu-clearance.ts';
import { counting } from '../site/clearance.ts';
import type { HopPlan, PathPlan } from '../site/path-plan.ts';
import type { HopGroup, PairShape, Slot } from './pair-shape.ts';

/** How hops of nodes that steps touch are numbered. */
export interface Shaping {
  readonly numberOf: ReadonlyMap<string, number>;
  readonly slotOf: (slot: Slot) => number;
}

/** The pairs of all paths, alike ones counted together. */
export function shapesOf(plans: readonly PathPlan[], shaping: Shaping): PairShape[] {
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
