import fc from 'fast-check';
import type { LinkMode } from '../../src/ethernet/link-mode.ts';
import { modesOfPhy } from '../../src/ethernet/phy.ts';
import { annex28b3 } from './negotiation-oracle.ts';

/** `1000BASE-T half` as a mode. */
export function modeNamed(name: string): LinkMode {
  const [phy = '', duplex] = name.split(' ');
  const found = modesOfPhy(phy).find((mode) => mode.duplex === duplex);
  if (found === undefined) throw new Error(`no mode ${name}`);
  return found;
}

export function nameOf({ phy, duplex }: LinkMode): string {
  return `${phy} ${duplex}`;
}

/** Names of 28B.3, any of them, in any order. */
export const someNames = fc.shuffledSubarray([...annex28b3]);
