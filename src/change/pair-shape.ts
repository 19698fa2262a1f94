import type { MtuCounting } from '../ethernet/mtu-clearance.ts';

/** The smallest packet that some hops of a pair pass: some fixed, some moved by steps. */
export interface HopGroup {
  /** Of hops that no step moves; Infinity where there is none that is known. */
  readonly leastBytes: number;
  /** Hops that steps move, by index into the slots of the model. */
  readonly slots: readonly number[];
}

/** A hop that steps move. */
export interface Slot {
  /** Index into the nodes that steps touch. */
  readonly node: number;
  /** The node's own name of the port; absent: a node that nobody reads, which is one hop. */
  readonly portName?: string;
  readonly counting: MtuCounting;
  readonly tags: number;
  /** More than 1500 bytes are wanted, so that what a switch says may be doubtful. */
  readonly large: boolean;
}

/** Pairs of ends that are alike in everything that the cost of a state depends on. */
export interface PairShape {
  readonly count: number;
  /** Of these pairs, as `SitePath.id`. */
  readonly ids: readonly string[];
  /** Cords join its ends; where they do not, nothing else of it counts. */
  readonly joined: boolean;
  /** IP packet that is declared from now on; absent: none. */
  readonly declaredBytes?: number;
  /** Routers stand between the ends, so that these may differ by design. */
  readonly routed: boolean;
  /** What the ends send and take: their interfaces with an address. */
  readonly from: HopGroup;
  readonly to: HopGroup;
  /** Layers below those interfaces: what an end sends and its own layers drop is lost silently. */
  readonly belowFrom: HopGroup;
  readonly belowTo: HopGroup;
  /** Switches, which drop what is too long without a word. */
  readonly middle: HopGroup;
  /** Ports of routers by which the packets of either end come in. */
  readonly entry: HopGroup;
  /** Other ports of routers; whether two in a row agree with each other is not looked at. */
  readonly router: HopGroup;
}

/** What one pair adds to the cost of a state. */
export interface PairCost {
  readonly apart: boolean;
  readonly cut: boolean;
  readonly reduced: boolean;
  readonly lackBytes: number;
}

/**
 * What is wrong with a pair in a state. What is not known takes part in nothing: it is told apart,
 * and an order is not chosen by it. Over routers only what both ends send may be lost silently,
 * since a router answers what is too long for its next link (RFC 1191 section 4, RFC 8201); what is
 * too long for the port by which it comes in never gets so far (the lab shows it).
 */
export function pairCost(shape: PairShape, slotBytes: ArrayLike<number>): PairCost {
  if (!shape.joined)
    return { apart: true, cut: false, reduced: false, lackBytes: shape.declaredBytes ?? 0 };
  const [from, to] = [least(shape.from, slotBytes), least(shape.to, slotBytes)];
  const middle = least(shape.middle, slotBytes);
  const [belowFrom, belowTo] = [least(shape.belowFrom, slotBytes), least(shape.belowTo, slotBytes)];
  const ends = [from, to].filter(Number.isFinite);
  const sent = ends.length === 0 ? 0 : shape.routed ? Math.min(...ends) : Math.max(...ends);
  const silent = Math.min(middle, least(shape.entry, slotBytes));
  const limit = Math.min(from, to, belowFrom, belowTo, silent, least(shape.router, slotBytes));
  const lack = Math.max(0, (shape.declaredBytes ?? 0) - limit);
  const cut = sent > silent || overOwn(from, belowFrom) || overOwn(to, belowTo);
  const uneven = !shape.routed && ends.length === 2 && from !== to;
  return { apart: false, cut, reduced: !cut && (lack > 0 || uneven), lackBytes: lack };
}

/** What an end sends that its own lower layers do not pass. */
function overOwn(end: number, below: number): boolean {
  return Number.isFinite(end) && end > below;
}

function least({ leastBytes, slots }: HopGroup, slotBytes: ArrayLike<number>): number {
  let found = leastBytes;
  for (const slot of slots) found = Math.min(found, slotBytes[slot] ?? Infinity);
  return found;
}
