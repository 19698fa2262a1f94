import type { LinkMode } from './link-mode.ts';

/**
 * Order of PHYs that share a speed, highest first: IEEE 802.3 28B.3 (secondary source). All else
 * follows from the speed, since no mode of that list outranks a faster one.
 */
const twistedPairRanks: readonly string[] = [
  '1000BASE-T full',
  '1000BASE-T half',
  '100BASE-T2 full',
  '100BASE-TX full',
  '100BASE-T2 half',
  '100BASE-T4 half',
  '100BASE-TX half',
  '10BASE-T full',
  '10BASE-T half',
];

/**
 * Compares two modes for sorting by the priority of auto-negotiation, highest first. Equal (0)
 * only for one and the same mode.
 *
 * Twisted pair follows IEEE 802.3 28B.3 (secondary source; 25GBASE-T and 40GBASE-T from memory):
 * the faster first, so that 1000BASE-T half stands before 100BASE-TX full. Modes of other media
 * stand by speed, full before half, then by name: on one wire there is never a choice among media.
 */
export function byModePriority(a: LinkMode, b: LinkMode): number {
  return (
    b.speedMbps - a.speedMbps ||
    rankOf(a) - rankOf(b) ||
    Number(a.duplex === 'half') - Number(b.duplex === 'half') ||
    byText(modeKey(a), modeKey(b))
  );
}

/** One text for one mode: modes are the same where it is equal. */
export function modeKey({ phy, speedMbps, medium, duplex }: LinkMode): string {
  return `${phy ?? `${speedMbps} Mb/s ${medium}`} ${duplex}`;
}

function rankOf(mode: LinkMode): number {
  const rank = twistedPairRanks.indexOf(modeKey(mode));
  return rank < 0 ? twistedPairRanks.length : rank;
}

function byText(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
