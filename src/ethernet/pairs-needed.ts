import type { LinkMode } from './link-mode.ts';

/**
 * Pairs of a cable that a mode needs. 10BASE-T and 100BASE-TX use two, on pins 1-2 and 3-6 (pins
 * from memory), 1000BASE-T and faster all four (secondary source): a cable with a broken 4-5 or
 * 7-8 still links at 100. 100BASE-T2 and -T4 and single-pair Ethernet are from memory. Undefined
 * where the mode is not one of copper pairs, or does not say its PHY.
 */
export function pairsNeeded({ phy, medium, speedMbps }: LinkMode): 1 | 2 | 4 | undefined {
  if (phy !== undefined && /BASE-T1[LS]?$/.test(phy)) return 1;
  if (medium !== 'twisted-pair' || phy === undefined) return undefined;
  return speedMbps >= 1000 || phy === '100BASE-T4' ? 4 : 2;
}
