import type { LinkMode } from './link-mode.ts';
import { type MauCapBits, parseMauCapBits } from './mau-cap-bits.ts';
import { mauType } from './mau-type.ts';

/** Two octets of LLDP, in the order of bits of the standard and in the other one. */
export interface LldpCapability {
  readonly asSent: MauCapBits;
  /** With all 16 bits turned round. Absent where that gives the same octets. */
  readonly reversed?: MauCapBits;
  /** Which reading can be true; `neither`: believe none. */
  readonly plausible: 'as-sent' | 'reversed' | 'both' | 'neither';
}

/**
 * Reads the advertised capability of the LLDP MAC/PHY TLV (LLDP-EXT-DOT3-MIB
 * lldpXdot3RemPortAutoNegAdvertisedCap): bits 0 to 15 of IANAifMauAutoNegCapBits, so it is silent
 * on 10GBASE-T and faster. Some stacks send the bits in reverse, IEEE 802.1AB-2005 having left the
 * order open (from memory). `operMauType` of the same TLV tells the two apart: the mode in use is
 * one of those advertised; where it does not, modes that are not built do (common practice).
 * Undefined unless there are exactly two octets.
 */
export function parseLldpCapability(
  octets: Uint8Array,
  operMauType?: number,
): LldpCapability | undefined {
  const [first, second] = octets;
  if (octets.length !== 2 || first === undefined || second === undefined) return undefined;
  const turned = Uint8Array.of(turnOctet(second), turnOctet(first));
  const asSent = parseMauCapBits(octets);
  if (turned[0] === first && turned[1] === second)
    return { asSent, plausible: oddity(asSent) ? 'neither' : 'as-sent' };
  const reversed = parseMauCapBits(turned);
  return { asSent, reversed, plausible: plausibleOf(asSent, reversed, operMauType) };
}

function plausibleOf(
  asSent: MauCapBits,
  reversed: MauCapBits,
  operMauType: number | undefined,
): LldpCapability['plausible'] {
  const sentRuns = runs(asSent, operMauType);
  const reversedRuns = runs(reversed, operMauType);
  if (sentRuns !== reversedRuns) return sentRuns ? 'as-sent' : 'reversed';
  const sentFits = !oddity(asSent);
  const reversedFits = !oddity(reversed);
  if (sentFits && reversedFits) return 'both';
  return sentFits ? 'as-sent' : reversedFits ? 'reversed' : 'neither';
}

/** The reading has the mode that the port runs at. */
function runs({ modes }: MauCapBits, operMauType: number | undefined): boolean {
  const used = operMauType === undefined ? undefined : mauType(operMauType);
  if (used === undefined) return false;
  return modes.some(
    ({ phy, duplex }) => phy === used.phy && (used.duplex === undefined || duplex === used.duplex),
  );
}

/** The reading has what no port has (common practice). */
function oddity({ modes }: MauCapBits): boolean {
  const has = (phy: string, duplex?: LinkMode['duplex']) =>
    modes.some((mode) => mode.phy === phy && (duplex === undefined || mode.duplex === duplex));
  return (
    has('100BASE-T4') ||
    has('100BASE-T2') ||
    has('1000BASE-X', 'half') ||
    (has('1000BASE-X') && has('1000BASE-T')) ||
    (has('1000BASE-T', 'half') && !has('1000BASE-T', 'full'))
  );
}

function turnOctet(octet: number): number {
  let turned = 0;
  for (let bit = 0; bit < 8; bit += 1) if (octet & (1 << bit)) turned |= 0x80 >> bit;
  return turned;
}
