import { byName } from '../../../facts/order.ts';
import type { Part, Strand } from './island-parts.ts';

/** Where a link meets a part: its place in the order of its side, from the top. */
export interface Slot {
  readonly strand: Strand;
  /** The part at the other end of this piece of the link. */
  readonly other: Part;
  /** The upper end of a link within a tier, or of one that comes back to its node. */
  readonly upper: boolean;
}

/** Links that meet a part on its left and on its right, each from the top. */
export interface Slots {
  readonly left: readonly Slot[];
  readonly right: readonly Slot[];
}

/**
 * In which order the links meet each part, so that few of them cross beside it. Links within a tier
 * leave on the left: upwards at the top, the nearest uppermost; downwards at the bottom, the nearest
 * lowest; so they lie in each other like shells.
 */
export function slotsOf(strands: readonly Strand[]): Map<Part, Slots> {
  const found = new Map<Part, { left: Slot[]; right: Slot[] }>();
  const at = (part: Part) => {
    const slots = found.get(part) ?? { left: [], right: [] };
    found.set(part, slots);
    return slots;
  };
  for (const strand of strands) {
    const [first, second] = strand.parts;
    if (first.tier === second.tier) {
      const [upper, lower] = first.at <= second.at ? [first, second] : [second, first];
      at(upper).left.push({ strand, other: lower, upper: true });
      at(lower).left.push({ strand, other: upper, upper: false });
      continue;
    }
    for (const [index, part] of strand.parts.entries()) {
      const next = strand.parts[index + 1];
      if (next === undefined) continue;
      at(part).right.push({ strand, other: next, upper: false });
      at(next).left.push({ strand, other: part, upper: false });
    }
  }
  for (const [part, { left, right }] of found) {
    left.sort((a, b) => compare(a, b, part));
    right.sort((a, b) => a.other.at - b.other.at || bySelf(a, b));
  }
  return found;
}

function compare(a: Slot, b: Slot, part: Part): number {
  const [groupA, groupB] = [a, b].map((slot) => groupOf(slot, part)) as [number, number];
  if (groupA !== groupB) return groupA - groupB;
  const mirrored = groupA === -1 ? -1 : 1;
  if (groupA === 0) return a.other.at - b.other.at || bySelf(a, b);
  return b.other.at - a.other.at || mirrored * bySelf(a, b);
}

/** -1: upwards in the tier; 0: to the tier before; 1: downwards. */
function groupOf({ other, upper }: Slot, part: Part): number {
  if (other.tier !== part.tier) return 0;
  return upper ? 1 : -1;
}

/** Between links of the same two parts: those of one bundle together. */
function bySelf({ strand: { link: a } }: Slot, { strand: { link: b } }: Slot): number {
  return byName(a.bundle ?? '', b.bundle ?? '') || byName(a.id, b.id);
}
