import type { Duplex, LinkMode, Medium } from './link-mode.ts';

/** A physical layer of IEEE 802.3, or one that the trade names in its manner. */
export interface Phy {
  /** As `100BASE-TX`, `2.5GBASE-T`, `25GBASE-CR-S`. */
  readonly phy: string;
  readonly speedMbps: number;
  readonly medium: Medium;
  /** Highest priority first. */
  readonly duplexes: readonly Duplex[];
}

interface Family {
  /** What follows `BASE-`. */
  readonly suffix: RegExp;
  readonly medium: Medium;
  readonly speedsMbps: (speedMbps: number) => boolean;
  /** Absent: what the speed allows. */
  readonly duplexes?: readonly Duplex[];
}

const only =
  (...speeds: readonly number[]) =>
  (speedMbps: number) =>
    speeds.includes(speedMbps);
const serial = only(
  ...[10, 20, 25, 40, 50, 56, 100, 200, 400, 800, 1600].map((gbps) => gbps * 1000),
);

// Clause 1.4 of IEEE 802.3 defines the names; which letter is which medium is from memory.
const families: readonly Family[] = [
  { suffix: /^T$/, medium: 'twisted-pair', speedsMbps: only(10, 1000, 2500, 5000, 10_000) },
  { suffix: /^T$/, medium: 'twisted-pair', speedsMbps: only(25_000, 40_000) },
  { suffix: /^(?:TX|T2)$/, medium: 'twisted-pair', speedsMbps: only(100) },
  { suffix: /^T4$/, medium: 'twisted-pair', speedsMbps: only(100), duplexes: ['half'] },
  { suffix: /^T1$/, medium: 'unknown', speedsMbps: only(100, 1000), duplexes: ['full'] },
  { suffix: /^T1L$/, medium: 'unknown', speedsMbps: only(10), duplexes: ['full'] },
  { suffix: /^T1S$/, medium: 'unknown', speedsMbps: only(10) },
  { suffix: /^FL$/, medium: 'fibre', speedsMbps: only(10) },
  { suffix: /^FX$/, medium: 'fibre', speedsMbps: only(100) },
  { suffix: /^[SL]X$/, medium: 'fibre', speedsMbps: only(1000) },
  { suffix: /^LX10$/, medium: 'fibre', speedsMbps: only(100, 1000), duplexes: ['full'] },
  { suffix: /^CX$/, medium: 'direct-attach', speedsMbps: only(1000) },
  { suffix: /^KX$/, medium: 'backplane', speedsMbps: only(1000, 2500), duplexes: ['full'] },
  { suffix: /^X$/, medium: 'unknown', speedsMbps: only(1000, 2500, 10_000) },
  { suffix: /^(?:LX4|LRM|[ELS]W)$/, medium: 'fibre', speedsMbps: only(10_000) },
  { suffix: /^CX4$/, medium: 'direct-attach', speedsMbps: only(10_000) },
  { suffix: /^KX4$/, medium: 'backplane', speedsMbps: only(10_000) },
  { suffix: /^KP4$/, medium: 'backplane', speedsMbps: only(100_000) },
  { suffix: /^W$/, medium: 'unknown', speedsMbps: only(10_000) },
  { suffix: /^R$/, medium: 'unknown', speedsMbps: serial },
  {
    suffix: /^[SLEFDV]R(?:10|\d)?(?:-2)?(?:\/[SLEFDV]R\d?){0,2}$/,
    medium: 'fibre',
    speedsMbps: serial,
  },
  { suffix: /^CR(?:10|\d|-S)?$/, medium: 'direct-attach', speedsMbps: serial },
  {
    suffix: /^KR(?:\d|-S)?$/,
    medium: 'backplane',
    speedsMbps: (speedMbps) => speedMbps === 5000 || serial(speedMbps),
  },
];

/**
 * The PHY of a speed in Mb/s and of what follows `BASE-`, as 25000 and `CR-S`; undefined for a
 * pair that no family of names covers. There is no half duplex above 1000 Mb/s: EtherLike-MIB
 * (RFC 3635) for 10 Gb/s and more, from memory for 2.5 and 5 Gb/s.
 */
export function phyOf(speedMbps: number, suffix: string): Phy | undefined {
  const family = families.find((row) => row.suffix.test(suffix) && row.speedsMbps(speedMbps));
  if (family === undefined) return undefined;
  const duplexes: readonly Duplex[] = speedMbps > 1000 ? ['full'] : ['full', 'half'];
  return {
    phy: `${speedWord(speedMbps)}BASE-${suffix}`,
    speedMbps,
    medium: family.medium,
    duplexes: family.duplexes ?? duplexes,
  };
}

/** Reads a name of IEEE 802.3, as `2.5GBASE-T`; undefined for any other text. */
export function parsePhy(name: string): Phy | undefined {
  const [, number = '', unit = '', suffix = ''] =
    /^(\d{1,4}(?:\.\d)?)([GT]?)BASE-([A-Z0-9/-]{1,16})$/.exec(name) ?? [];
  if (number === '') return undefined;
  const phy = phyOf(Math.round(Number(number) * unitMbps(unit)), suffix);
  return phy?.phy === name ? phy : undefined;
}

/** The modes that a PHY of this name has; of one duplex where that is given. */
export function modesOfPhy(name: string, duplex?: Duplex): readonly LinkMode[] {
  const found = parsePhy(name);
  if (found === undefined) return [];
  const { phy, speedMbps, medium, duplexes } = found;
  return duplexes
    .filter((each) => duplex === undefined || each === duplex)
    .map((each) => ({ speedMbps, duplex: each, medium, phy }));
}

function unitMbps(unit: string): number {
  return unit === 'T' ? 1_000_000 : unit === 'G' ? 1000 : 1;
}

function speedWord(speedMbps: number): string {
  if (speedMbps > 1_000_000) return `${speedMbps / 1_000_000}T`;
  return speedMbps > 1000 ? `${speedMbps / 1000}G` : String(speedMbps);
}
