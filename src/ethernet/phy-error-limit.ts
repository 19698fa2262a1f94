/** How many errors a physical layer may make and still keep to IEEE 802.3. */
export interface PhyErrorLimit {
  /** The family of PHYs, as IEEE 802.3 names it: `10GBASE-R`. */
  readonly phy: string;
  /** Largest bit error ratio, after what the PHY itself corrects. */
  readonly bitErrorRatioMax: number;
  /**
   * How the standard puts it for frames: at most this share of frames of `frameBytes`, header to
   * FCS, is lost. It is what counts where the PHY corrects errors.
   */
  readonly frameLossRatioMax: number;
  readonly frameBytes: number;
  /**
   * Bits that are lost together when correction fails: one code word. Absent: the PHY corrects
   * nothing, and errors come singly.
   */
  readonly burstBits?: number;
}

/** Data bits of an LDPC frame of 10GBASE-T: 50 blocks of 65 bits (clause 55, from memory). */
const ldpcBits = 3250;
/** A code word of RS(528,514) with symbols of 10 bits (clause 91, from memory). */
const reedSolomonBits = 5280;

type Row = PhyErrorLimit & { readonly names: RegExp };

/** A limit where nothing is corrected: frames of 125 bytes are 1000 bits. */
function single(phy: string, names: RegExp, bitErrorRatioMax: number): Row {
  const frameLossRatioMax = bitErrorRatioMax * 1000;
  return { phy, names, bitErrorRatioMax, frameLossRatioMax, frameBytes: 125 };
}

function corrected(phy: string, names: RegExp, code: 'ldpc' | 'reed-solomon'): Row {
  const frames =
    code === 'ldpc'
      ? { frameLossRatioMax: 6.4e-9, frameBytes: 800, burstBits: ldpcBits }
      : { frameLossRatioMax: 6.2e-10, frameBytes: 64, burstBits: reedSolomonBits };
  return { phy, names, bitErrorRatioMax: 1e-12, ...frames };
}

/**
 * IEEE 802.3, all from memory; 10BASE-T and 1000BASE-X also by a secondary source (the archive of
 * the 802.3 high-speed study group, May 1999). 1000BASE-T: clause 40.6.1.3.1, verified by 1e-7 of
 * frames of 125 bytes. 10GBASE-T: clause 55.5.4.1, 6.4e-9 of frames of 800 bytes. PHYs with
 * RS-FEC: clauses 95, 108 and 112, 6.2e-10 of frames of 64 bytes. 100BASE-TX is left out: its
 * limit is in ANSI X3.263, and what is said of it differs.
 */
const rows: readonly Row[] = [
  single('10BASE-T', /^10BASE-T$/, 1e-8),
  single('1000BASE-T', /^1000BASE-T$/, 1e-10),
  single('1000BASE-X', /^1000BASE-([SLCKZB]X\d*|LX10|X)$/, 1e-12),
  corrected('2.5GBASE-T', /^2\.5GBASE-T$/, 'ldpc'),
  corrected('5GBASE-T', /^5GBASE-T$/, 'ldpc'),
  corrected('10GBASE-T', /^10GBASE-T$/, 'ldpc'),
  single('10GBASE-R', /^10GBASE-(R|[SLE]R|LRM|CR|KR)$/, 1e-12),
  corrected('25GBASE-T', /^25GBASE-T$/, 'ldpc'),
  corrected('25GBASE-R', /^25GBASE-(R|[SLEKC]R|[CK]R-S)$/, 'reed-solomon'),
  corrected('40GBASE-T', /^40GBASE-T$/, 'ldpc'),
  single('40GBASE-R', /^40GBASE-(R|[SLECK]R4|FR)$/, 1e-12),
  corrected('100GBASE-R', /^100GBASE-([SCK]R4)$/, 'reed-solomon'),
  single('100GBASE-R', /^100GBASE-(LR4|ER4|SR10|CR10)$/, 1e-12),
];

/**
 * The limit of a PHY, by the name that IEEE 802.3 gives it: `10GBASE-T`, `10GBASE-SR`. Undefined
 * for a PHY whose limit is not known here; a speed alone is not enough.
 */
export function phyErrorLimit(phy: string): PhyErrorLimit | undefined {
  const row = rows.find(({ names }) => names.test(phy));
  if (row === undefined) return undefined;
  const { names: _, ...limit } = row;
  return limit;
}

/**
 * Share of frames of `frameBits` that may be lost. A frame is lost with every code word that it
 * touches, so a long frame is lost more often, in proportion to its own bits and one code word's
 * (the reckoning of IEEE 802.3 for RS-FEC, from memory); without correction to its bits alone.
 */
export function frameLossRatioMax(limit: PhyErrorLimit, frameBits: number): number {
  const burst = limit.burstBits ?? 0;
  return (limit.frameLossRatioMax * (frameBits + burst)) / (limit.frameBytes * 8 + burst);
}
