import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { packetRange } from '../ethernet/mtu-clearance.ts';
import { counting } from '../site/clearance.ts';
import { doubtfulMtu } from '../site/doubtful-mtu.ts';
import { isPlanJoined } from '../site/path-joined.ts';
import type { HopPlan, PathPlan } from '../site/path-plan.ts';
import type { SiteIndex } from '../site/site-index.ts';
import type { HopGroup, PairShape, Slot } from './pair-shape.ts';

/** How hops of nodes that steps touch are numbered. */
export interface Shaping {
  readonly numberOf: ReadonlyMap<string, number>;
  readonly slotOf: (slot: Slot) => number;
}

/** Paths with the site that they are planned in. */
export interface PlannedPaths {
  readonly plans: readonly PathPlan[];
  readonly index: SiteIndex;
}

/** The pairs of all paths, alike ones counted together. */
export function shapesOf({ plans, index }: PlannedPaths, shaping: Shaping): PairShape[] {
  const counted = new Map<string, { shape: Unnamed; ids: string[] }>();
  for (const plan of plans) {
    const shape = shapeOf(plan, isPlanJoined(plan, index), shaping);
    const key = JSON.stringify(shape, (_, value: unknown) => (value === Infinity ? 'inf' : value));
    const known = counted.get(key);
    if (known === undefined) counted.set(key, { shape, ids: [plan.id] });
    else known.ids.push(plan.id);
  }
  // Spread last: with it first V8 makes objects that are eight times as slow to read (npm run bench).
  return [...counted.values()].map(({ shape, ids }) => ({ count: ids.length, ids, ...shape }));
}

/** What of a pair its cost depends on. */
type Unnamed = Omit<PairShape, 'ids' | 'count'>;

function shapeOf({ hops, mtuBytes }: PathPlan, joined: boolean, shaped: Shaping): Unnamed {
  const shaping = { ...shaped, large: (mtuBytes ?? 0) > standardPacketBytes };
  const from = hops.filter(({ position }) => position === 'from');
  const to = hops.filter(({ position }) => position === 'to');
  const routers = hops.filter(({ position }) => position === 'router');
  const entries = entriesOf(routers);
  const switches = hops.filter(({ position }) => position === 'switch');
  const [sending, belowFrom] = splitEnd(from);
  const [taking, belowTo] = splitEnd(to);
  return {
    joined,
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

/** Hops of pairs of which more than 1500 bytes are wanted, or not. */
interface Sized extends Shaping {
  readonly large: boolean;
}

function groupOf(hops: readonly HopPlan[], shaping: Sized): HopGroup {
  let leastBytes = Infinity;
  const slots = new Set<number>();
  for (const hop of hops) {
    const slot = slotFor(hop, shaping);
    if (slot === undefined) leastBytes = Math.min(leastBytes, fixedBytes(hop, shaping.large));
    else slots.add(shaping.slotOf(slot));
  }
  return { leastBytes, slots: [...slots].sort((a, b) => a - b) };
}

function slotFor({ ref, tags = 0 }: HopPlan, { numberOf, large }: Sized): Slot | undefined {
  const node = numberOf.get(ref.node.declared.name);
  if (node === undefined) return undefined;
  if (ref.node.onWord) return { node, counting: 'header-fcs', tags, large };
  if (ref.node.gap !== undefined || ref.survey === undefined) return undefined;
  return { node, portName: ref.survey.name, counting: counting(ref), tags, large };
}

function fixedBytes({ ref, tags = 0 }: HopPlan, large: boolean): number {
  const { frameBytes } = ref.node.declared;
  if (ref.node.onWord)
    return frameBytes === undefined
      ? Infinity
      : packetRange(frameBytes, 'header-fcs', tags).atLeastBytes;
  if (large && doubtfulMtu(ref.node) !== undefined) return Infinity;
  const mtuBytes = ref.node.gap === undefined ? ref.survey?.facts.mtuBytes : undefined;
  return mtuBytes === undefined ? Infinity : packetRange(mtuBytes, counting(ref), tags).atMostBytes;
}
