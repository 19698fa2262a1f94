import type { Medium } from './link-mode.ts';

/** What two ends of a link have to have alike. */
export type Agreed = 'speed' | 'duplex' | 'pause' | 'master-slave' | 'fec';

/** How the two ends of a link come to agree. */
export type Negotiation =
  | {
      /** Clause of IEEE 802.3: 28 twisted pair, 37 1000BASE-X, 73 backplane and copper cables. */
      readonly clause: 28 | 37 | 73;
      readonly agrees: readonly Agreed[];
      /** Without it there is no link by the standard. */
      readonly required: boolean;
    }
  /** Nothing is exchanged: what stands in `byHand` must be set alike at both ends. */
  | { readonly clause: 'none'; readonly byHand: readonly Agreed[] }
  /** No source known to us says. */
  | { readonly clause: 'unknown' };

const unknown: Negotiation = { clause: 'unknown' };
const clause37: Negotiation = { clause: 37, agrees: ['duplex', 'pause'], required: false };
const serialMbps = [25_000, 40_000, 50_000, 100_000, 200_000, 400_000, 800_000];

/**
 * How a link of this medium and speed in Mb/s agrees on how to run.
 *
 * - Twisted pair: Clause 28, optional at 10 and 100 and required from 1000 on (secondary source).
 * - Fibre: 1000BASE-X has Clause 37, which settles no speed (secondary source); 100BASE-FX and all
 *   optics from 10 Gb/s on have nothing (from memory). 2.5 and 5 Gb/s: not known.
 * - Direct attach: nothing at 10 Gb/s; from 25 Gb/s on Clause 73 with error correction to agree on
 *   (from memory).
 * - Backplane: Clause 73, with error correction from 10 Gb/s on (from memory).
 */
export function negotiationOf(medium: Medium, speedMbps: number): Negotiation {
  switch (medium) {
    case 'twisted-pair':
      return ofTwistedPair(speedMbps);
    case 'fibre':
      return ofFibre(speedMbps);
    case 'direct-attach':
      return ofDirectAttach(speedMbps);
    case 'backplane':
      return ofBackplane(speedMbps);
    case 'unknown':
      return unknown;
  }
}

function ofTwistedPair(speedMbps: number): Negotiation {
  if (speedMbps === 10 || speedMbps === 100)
    return { clause: 28, agrees: ['speed', 'duplex', 'pause'], required: false };
  if (speedMbps === 1000)
    return { clause: 28, agrees: ['speed', 'duplex', 'pause', 'master-slave'], required: true };
  if ([2500, 5000, 10_000, 25_000, 40_000].includes(speedMbps))
    return { clause: 28, agrees: ['speed', 'pause', 'master-slave'], required: true };
  return unknown;
}

function ofFibre(speedMbps: number): Negotiation {
  if (speedMbps === 1000) return clause37;
  if (speedMbps === 10 || speedMbps === 100)
    return { clause: 'none', byHand: ['speed', 'duplex', 'pause'] };
  if (speedMbps === 10_000 || speedMbps === 40_000)
    return { clause: 'none', byHand: ['speed', 'pause'] };
  // Which optics use error correction differs by PHY: both ends must be set to the same.
  if (serialMbps.includes(speedMbps)) return { clause: 'none', byHand: ['speed', 'pause', 'fec'] };
  return unknown;
}

function ofDirectAttach(speedMbps: number): Negotiation {
  if (speedMbps === 1000) return clause37;
  if (speedMbps === 10_000) return { clause: 'none', byHand: ['speed', 'pause'] };
  return serialMbps.includes(speedMbps) ? clause73(true) : unknown;
}

function ofBackplane(speedMbps: number): Negotiation {
  if ([1000, 2500, 5000].includes(speedMbps)) return clause73(false);
  return speedMbps === 10_000 || serialMbps.includes(speedMbps) ? clause73(true) : unknown;
}

function clause73(fec: boolean): Negotiation {
  return {
    clause: 73,
    agrees: fec ? ['speed', 'pause', 'fec'] : ['speed', 'pause'],
    required: true,
  };
}
