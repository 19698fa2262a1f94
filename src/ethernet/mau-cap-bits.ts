import type { Duplex, OfferedModes } from './link-mode.ts';
import { linkModes } from './link-modes.ts';
import { modesOfPhy } from './phy.ts';
import type { PauseOffer } from './resolve-pause.ts';

/** What the capability bits of one side say. */
export interface MauCapBits extends OfferedModes {
  /** All false also where the agent knows nothing of pause: it has no bit for that. */
  readonly pause: PauseOffer;
  /** Error correction that the side asks for on 25 Gb/s copper (bits 26 and 27). */
  readonly fecWanted: readonly ('rs' | 'base-r')[];
}

type Row = readonly [bit: number, duplex: Duplex, ...phys: readonly string[]];

// IANAifMauAutoNegCapBits of IANA-MAU-MIB. A bit that stands for either of two PHYs gives both.
const rows: readonly Row[] = [
  [1, 'half', '10BASE-T'],
  [2, 'full', '10BASE-T'],
  [3, 'half', '100BASE-T4'],
  [4, 'half', '100BASE-TX'],
  [5, 'full', '100BASE-TX'],
  [6, 'half', '100BASE-T2'],
  [7, 'full', '100BASE-T2'],
  [12, 'half', '1000BASE-X'],
  [13, 'full', '1000BASE-X'],
  [14, 'half', '1000BASE-T'],
  [15, 'full', '1000BASE-T'],
  [16, 'full', '10GBASE-T'],
  [17, 'full', '1000BASE-KX'],
  [18, 'full', '10GBASE-KX4'],
  [19, 'full', '10GBASE-KR'],
  [20, 'full', '40GBASE-KR4'],
  [21, 'full', '40GBASE-CR4'],
  [22, 'full', '100GBASE-CR10'],
  [23, 'full', '1000BASE-T1'],
  [24, 'full', '25GBASE-KR-S', '25GBASE-CR-S'],
  [25, 'full', '25GBASE-KR', '25GBASE-CR'],
  [28, 'full', '25GBASE-T'],
  [29, 'full', '40GBASE-T'],
  [30, 'full', '100GBASE-CR4'],
  [31, 'full', '100GBASE-KR4'],
  [32, 'full', '100GBASE-KP4'],
];

const other = 0;
/** FdxPause, FdxAPause, FdxSPause, FdxBPause. */
const pauseBits = { pause: 8, asymmetric: 9, symmetric: 10, both: 11 } as const;
const fecBits = { rs: 26, 'base-r': 27 } as const;
/** ForceMS: how master and slave are chosen; no mode. */
const forceMasterSlave = 33;
const known = new Set([
  ...rows.map(([bit]) => bit),
  ...Object.values(pauseBits),
  ...Object.values(fecBits),
  forceMasterSlave,
]);

/** Twisted-pair speeds that no bit of the module says, up to revision 2017-04-10. */
const neverSaidMbps = [2500, 5000];
/** The full-duplex bit of a twisted-pair speed: octets that end before it are silent on it. */
const lastBits: readonly (readonly [speedMbps: number, bit: number])[] = [
  [10, 2],
  [100, 5],
  [1000, 15],
  [10_000, 16],
  [25_000, 28],
  [40_000, 29],
];

/** Longer than any capability list; what follows is not read. */
const octetsMax = 16;

/**
 * Reads ifMauAutoNegCapabilityBits, -CapAdvertisedBits or -CapReceivedBits (RFC 4836): SNMP BITS,
 * bit 0 the most significant of the first octet (RFC 2578 7.1.4, from memory), so that `6C 01` is
 * bits 1, 2, 4, 5 and 15. Kept aside are bOther(0) and bits that the module does not name.
 */
export function parseMauCapBits(octets: Uint8Array): MauCapBits {
  const bits = bitsOf(octets.subarray(0, octetsMax));
  const modes = rows.flatMap(([bit, duplex, ...phys]) =>
    bits.has(bit) ? phys.flatMap((phy) => modesOfPhy(phy, duplex)) : [],
  );
  return {
    modes: linkModes(modes),
    aside: asideOf(bits, octets.length),
    silentMbps: silentOf(octets.length * 8),
    pause: pauseOf(bits),
    fecWanted: (['rs', 'base-r'] as const).filter((fec) => bits.has(fecBits[fec])),
  };
}

function bitsOf(octets: Uint8Array): ReadonlySet<number> {
  const bits = new Set<number>();
  octets.forEach((octet, index) => {
    for (let bit = 0; bit < 8; bit += 1) if (octet & (0x80 >> bit)) bits.add(index * 8 + bit);
  });
  return bits;
}

function asideOf(bits: ReadonlySet<number>, octetCount: number): readonly string[] {
  const unnamed = [...bits].filter((bit) => !known.has(bit));
  const words = unnamed.map((bit) => (bit === other ? 'bOther(0)' : `bit ${bit}`));
  return octetCount > octetsMax ? [...words, `octets after ${octetsMax}`] : words;
}

function silentOf(bitCount: number): readonly number[] {
  const beyond = lastBits.filter(([, bit]) => bit >= bitCount).map(([speedMbps]) => speedMbps);
  return [...neverSaidMbps, ...beyond].sort((a, b) => a - b);
}

function pauseOf(bits: ReadonlySet<number>): PauseOffer {
  const { pause, asymmetric, symmetric, both } = pauseBits;
  return {
    pause: bits.has(pause) || bits.has(symmetric) || bits.has(both),
    asymmetric: bits.has(asymmetric) || bits.has(both),
  };
}
