import { type Reach, reachStanding } from './reach.ts';

/** A PHY over a cable with its modules fixed to it, and its reach. */
export interface DirectAttachPhy {
  readonly phy: string;
  readonly rateMbps: number;
  readonly reach: Reach;
}

/**
 * Direct-attach cables, fastest first. At 10 Gb/s there is no PHY of IEEE Std 802.3: SFP+ twinax
 * (SFF-8431) is commonly 1 to 7 m, passive ones quoted to 10 m (secondary source), active ones
 * sold to 15 m (from memory). The others from memory.
 */
export const directAttachPhys: readonly DirectAttachPhy[] = [
  {
    phy: '100GBASE-CR4',
    rateMbps: 100_000,
    reach: { assuredMetres: 5, mark: 'from memory' },
  },
  {
    phy: '40GBASE-CR4',
    rateMbps: 40_000,
    reach: { assuredMetres: 7, mark: 'from memory' },
  },
  {
    phy: '25GBASE-CR',
    rateMbps: 25_000,
    reach: { assuredMetres: 5, mark: 'from memory' },
  },
  {
    phy: '25GBASE-CR-S',
    rateMbps: 25_000,
    reach: { assuredMetres: 3, mark: 'from memory' },
  },
  {
    phy: '10GBASE-CR',
    rateMbps: 10_000,
    reach: {
      assuredMetres: 7,
      conditionalMetres: 15,
      condition: 'as an active cable, or as a passive one to 10 m that its maker vouches for',
      mark: 'secondary source',
    },
  },
];

/** Reach of a direct-attach PHY by its name; undefined where it is not known. */
export function directAttachReach(phy: string): Reach | undefined {
  return directAttachPhys.find((known) => known.phy === phy)?.reach;
}

/**
 * Reach of direct-attach cables of a rate in Mb/s: what every PHY of that rate does is assured,
 * what only one of them does is conditional; undefined where no PHY has that rate.
 */
export function directAttachReachAt(rateMbps: number): Reach | undefined {
  const reaches = directAttachPhys.filter((p) => p.rateMbps === rateMbps).map((p) => p.reach);
  const [first] = reaches;
  if (first === undefined || reaches.length === 1) return first;
  return {
    assuredMetres: Math.min(...reaches.map((reach) => reach.assuredMetres ?? 0)),
    conditionalMetres: Math.max(...reaches.map(farthest)),
    condition: 'where both ports use the stronger error correction that the longer cable asks for',
    mark: first.mark,
  };
}

/** Highest rate in Mb/s of any direct-attach cable of that length; undefined: none is so long. */
export function highestDirectAttachRate(lengthMetres: number): number | undefined {
  return directAttachPhys.find((known) => reachStanding(known.reach, lengthMetres) !== 'beyond')
    ?.rateMbps;
}

function farthest(reach: Reach): number {
  return Math.max(reach.assuredMetres ?? 0, reach.conditionalMetres ?? 0);
}
