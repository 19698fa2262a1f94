import type { LinkMode, LinkModes } from './link-mode.ts';
import { commonModes } from './link-modes.ts';

/**
 * The mode that two ports agree on which advertise these modes: the highest priority of those in
 * common (IEEE 802.3 28B.3, secondary source; 25GBASE-T and 40GBASE-T from memory). Mind that
 * 1000BASE-T half outranks 100BASE-TX full. Undefined where nothing is common: no link.
 */
export function resolveNegotiation(local: LinkModes, partner: LinkModes): LinkMode | undefined {
  return commonModes(local, partner)[0];
}
