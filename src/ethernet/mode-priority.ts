import type { LinkMode } from './link-mode.ts';

/**
 * Order of the PHYs that share a speed and a duplex, highest first: IEEE 802.3 28B.3 (secondary
 * source). All else of that list follows from the speed, and within one speed from the duplex.
 */
const twistedPairRanks: readonly string[] = ['100BASE-T2', '100BASE-T4', '100BASE-TX'];

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
    Number(a.duplex === 'half') - Number(b.duplex === 'half') ||
    rankOf(a) - rankOf(b) ||
    byText(modeKey(a), modeKey(b))
  );
}

/** One text for one mode: modes are the same where it is equal. */
export function modeKey({ phy, speedMbps, medium, duplex }: LinkMode): string {
  return `${phy ?? `${speedMbps} Mb/s ${medium}`} ${duplex}`;
}

function rankOf({ phy = '' }: LinkMode): number {
  const rank = twistedPairRanks.indexOf(phy);
  return rank < 0 ? twistedPairRanks.length : rank;
}

function byText(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
