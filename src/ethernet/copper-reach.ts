import { type Reach, reachStanding } from './reach.ts';

/** Categories of twisted pair (ANSI/TIA-568, ISO/IEC 11801), worst first. */
export const copperGrades = ['cat5', 'cat5e', 'cat6', 'cat6a', 'cat7', 'cat8'] as const;
/** A category of twisted pair. */
export type CopperCategory = (typeof copperGrades)[number];

/** One PHY over twisted pair and its reach per category; a category not there is not specified. */
export interface CopperPhy {
  readonly phy: string;
  readonly rateMbps: number;
  readonly reach: Readonly<Partial<Record<CopperCategory, Reach>>>;
}

const hundred: Reach = { assuredMetres: 100, mark: 'secondary source' };
const hundredFromMemory: Reach = { assuredMetres: 100, mark: 'from memory' };
const thirty: Reach = { assuredMetres: 30, mark: 'secondary source' };

// IEEE 802.3bz runs on them in "defined use cases and deployment configurations"; assessed by
// TIA TSB-5021 or ISO/IEC TR 11801-9904 (secondary source).
const multiGigabit: Reach = {
  conditionalMetres: 100,
  condition: 'where alien crosstalk is low: no long tight bundles',
  mark: 'secondary source',
};

/**
 * Reach of the twisted-pair PHYs, fastest first.
 *
 * Secondary source: 100 m on category 5e and better up to 1000BASE-T, the multi-gigabit and
 * 10GBASE-T columns of 5e to 7, 37 m and 55 m of category 6 (one article; TIA TSB-155, ISO/IEC TR
 * 24750), 30 m of category 8 (TIA-568-C.2-1). From memory: category 8 at 10 Gb/s and below, and
 * 1000BASE-T on category 5. 25GBASE-T and 40GBASE-T are specified for category 8 alone.
 */
export const copperPhys: readonly CopperPhy[] = [
  { phy: '40GBASE-T', rateMbps: 40_000, reach: { cat8: thirty } },
  { phy: '25GBASE-T', rateMbps: 25_000, reach: { cat8: thirty } },
  {
    phy: '10GBASE-T',
    rateMbps: 10_000,
    reach: {
      cat6: {
        assuredMetres: 37,
        conditionalMetres: 55,
        condition: 'where alien crosstalk has been measured and is low (TIA TSB-155)',
        mark: 'secondary source',
      },
      cat6a: hundred,
      cat7: hundred,
      cat8: hundredFromMemory,
    },
  },
  {
    phy: '5GBASE-T',
    rateMbps: 5000,
    reach: {
      cat5e: multiGigabit,
      cat6: multiGigabit,
      cat6a: hundred,
      cat7: hundred,
      cat8: hundredFromMemory,
    },
  },
  {
    phy: '2.5GBASE-T',
    rateMbps: 2500,
    reach: {
      cat5e: multiGigabit,
      cat6: hundred,
      cat6a: hundred,
      cat7: hundred,
      cat8: hundredFromMemory,
    },
  },
  {
    phy: '1000BASE-T',
    rateMbps: 1000,
    reach: {
      cat5: {
        conditionalMetres: 100,
        condition: 'where the cable was measured for return loss and far-end crosstalk',
        mark: 'from memory',
      },
      cat5e: hundred,
      cat6: hundred,
      cat6a: hundred,
      cat7: hundred,
      cat8: hundredFromMemory,
    },
  },
  {
    phy: '100BASE-TX',
    rateMbps: 100,
    reach: {
      cat5: hundred,
      cat5e: hundred,
      cat6: hundred,
      cat6a: hundred,
      cat7: hundred,
      cat8: hundredFromMemory,
    },
  },
];

/** Reach of a PHY over a category; undefined where the PHY is not specified for it. */
export function copperReach(phy: string, category: CopperCategory): Reach | undefined {
  return copperPhys.find((known) => known.phy === phy)?.reach[category];
}

/** The fastest that a length of one category is specified for, in Mb/s. */
export interface CopperRate {
  /** Absent: no rate is assured. */
  readonly assuredMbps?: number;
  /** A higher rate that may run, under `condition`; absent: none. */
  readonly conditionalMbps?: number;
  readonly condition?: string;
}

/** Highest rates over `lengthMetres`, 0 or more, of one category, cords and wall cable together. */
export function highestCopperRate(category: CopperCategory, lengthMetres: number): CopperRate {
  const at = (standing: 'assured' | 'conditional') =>
    copperPhys.find(({ reach }) => {
      const found = reach[category];
      return found !== undefined && reachStanding(found, lengthMetres) === standing;
    });
  const assured = at('assured')?.rateMbps;
  const maybe = at('conditional');
  return {
    ...(assured === undefined ? {} : { assuredMbps: assured }),
    ...(maybe === undefined || maybe.rateMbps < (assured ?? 0)
      ? {}
      : { conditionalMbps: maybe.rateMbps, ...conditionOf(maybe.reach[category]) }),
  };
}

function conditionOf(reach: Reach | undefined): { readonly condition?: string } {
  return reach?.condition === undefined ? {} : { condition: reach.condition };
}
