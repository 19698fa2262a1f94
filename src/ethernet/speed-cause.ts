import type { LinkMode, OfferedModes } from './link-mode.ts';
import { type Negotiation, negotiationOf } from './negotiation-of.ts';
import { resolveNegotiation } from './resolve-negotiation.ts';
import {
  listMayHide,
  listReaches,
  type SideLimit,
  type SideModes,
  sideLimit,
} from './side-limit.ts';

/** What both ends of a link say of the modes they offer. */
export interface SpeedEvidence {
  /** Speed in use, Mb/s. */
  readonly speedMbps: number;
  /** Speed that the link is meant to have, Mb/s. Absent: none is declared. */
  readonly wantedMbps?: number;
  readonly local: SideModes;
  readonly partner: SideModes;
}

/** Why a link runs at its speed. `highest` is the best mode that both lists show. */
export type SpeedCause =
  /** A side does not negotiate, so that no list counts. */
  | { readonly kind: 'fixed'; readonly sides: readonly SideLimit['side'][] }
  /**
   * It runs at the best of what both offer, and none or no more is wanted. A speed that neither
   * list could say is not thought of.
   */
  | { readonly kind: 'as-negotiated'; readonly highest: LinkMode }
  /** Both offer more than is in use: the cable, its plugs or the PHY, not the configuration. */
  | {
      readonly kind: 'downshift';
      readonly highest: LinkMode;
      readonly limits: readonly SideLimit[];
    }
  /**
   * A side does not offer the wanted speed. `highest` is absent where the other side gave no list
   * and the link runs at the best of this one.
   */
  | {
      readonly kind: 'limited-by';
      readonly limits: readonly SideLimit[];
      readonly highest?: LinkMode;
    }
  /** Both have more in common than is in use, in a medium where the speed is set by hand. */
  | { readonly kind: 'not-negotiated'; readonly highest: LinkMode }
  /** It runs faster than anything in common: a fixed speed, or a module that converts. */
  | { readonly kind: 'above-common'; readonly highest: LinkMode }
  | { readonly kind: 'empty-common' }
  | { readonly kind: 'no-partner-list' }
  | { readonly kind: 'no-local-list' }
  | {
      readonly kind: 'undetermined';
      /**
       * `list-incomplete`: a list cannot say, or says in words not known, what would decide it.
       * `modes-differ`: each side offers the wanted speed, in modes that do not meet.
       * `medium-unknown`: the lists name a medium that may not negotiate its speed at all.
       */
      readonly why: 'list-incomplete' | 'modes-differ' | 'medium-unknown';
    };

const sides = ['local', 'partner'] as const;

/**
 * Why a link runs at its speed, judged by what both sides advertise: below the best common mode is
 * a downshift (cable), at the best common mode and below the wanted speed is a limit of the side
 * that lacks it (configuration or hardware). Common practice; the priority is IEEE 802.3 28B.3.
 */
export function speedCause(evidence: SpeedEvidence): SpeedCause {
  const { local, partner } = evidence;
  const fixed = sides.filter((side) => evidence[side].autoNegotiation === false);
  if (fixed.length > 0) return { kind: 'fixed', sides: fixed };
  if (local.advertised !== undefined && partner.advertised !== undefined)
    return ofBoth(evidence, local.advertised, partner.advertised);
  const alone = limitOfOne(evidence);
  if (alone !== undefined) return { kind: 'limited-by', limits: [alone] };
  return { kind: partner.advertised === undefined ? 'no-partner-list' : 'no-local-list' };
}

function ofBoth(evidence: SpeedEvidence, local: OfferedModes, partner: OfferedModes): SpeedCause {
  const { speedMbps, wantedMbps = 0 } = evidence;
  const highest = resolveNegotiation(local.modes, partner.modes);
  if (highest !== undefined && highest.speedMbps > speedMbps) return belowCommon(evidence, highest);
  const limits = limitsOf(evidence);
  const atBest = highest?.speedMbps === speedMbps;
  // Certain even where the lists may hide a mode between the two speeds.
  if (atBest && speedMbps < wantedMbps && limits.length > 0)
    return { kind: 'limited-by', limits, highest };
  const fromMbps = highest === undefined ? 0 : atBest ? speedMbps + 1 : speedMbps;
  const silent = atBest ? [] : local.silentMbps.filter((each) => partner.silentMbps.includes(each));
  if (mayShareUnseen(local, partner, { fromMbps, silent }))
    return { kind: 'undetermined', why: 'list-incomplete' };
  if (!atBest && [...local.modes, ...partner.modes].some((mode) => isOutside(mode, speedMbps)))
    return { kind: 'undetermined', why: 'medium-unknown' };
  if (highest === undefined) return { kind: 'empty-common' };
  if (!atBest) return { kind: 'above-common', highest };
  return speedMbps < wantedMbps
    ? { kind: 'undetermined', why: whyUnlimited(local, partner, wantedMbps) }
    : { kind: 'as-negotiated', highest };
}

/** A mode of the speed in use that no negotiation settles, and that not every list can name. */
function isOutside(mode: LinkMode, speedMbps: number): boolean {
  return mode.speedMbps === speedMbps && !settlesSpeed(negotiationOf(mode.medium, speedMbps));
}

function settlesSpeed(way: Negotiation): boolean {
  return way.clause !== 'none' && way.clause !== 'unknown' && way.agrees.includes('speed');
}

function belowCommon(evidence: SpeedEvidence, highest: LinkMode): SpeedCause {
  const way = negotiationOf(highest.medium, highest.speedMbps);
  if (way.clause === 'unknown') return { kind: 'undetermined', why: 'medium-unknown' };
  return settlesSpeed(way)
    ? { kind: 'downshift', highest, limits: limitsOf(evidence) }
    : { kind: 'not-negotiated', highest };
}

/** Both may offer a mode of at least `fromMbps` that one of the lists does not show. */
function mayShareUnseen(
  local: OfferedModes,
  partner: OfferedModes,
  { fromMbps, silent }: { readonly fromMbps: number; readonly silent: readonly number[] },
): boolean {
  if (local.aside.length > 0 && partner.aside.length > 0) return true;
  const hidden = (one: OfferedModes, other: OfferedModes) =>
    one.modes.some(({ speedMbps }) => speedMbps >= fromMbps && listMayHide(other, speedMbps));
  const speechless = silent.some((speedMbps) => speedMbps >= fromMbps);
  return speechless || hidden(local, partner) || hidden(partner, local);
}

function whyUnlimited(local: OfferedModes, partner: OfferedModes, wantedMbps: number) {
  return [local, partner].every((list) => listReaches(list, wantedMbps) === 'yes')
    ? 'modes-differ'
    : 'list-incomplete';
}

function limitsOf({ wantedMbps, local, partner }: SpeedEvidence): readonly SideLimit[] {
  if (wantedMbps === undefined) return [];
  return [
    sideLimit('local', local, wantedMbps) ?? [],
    sideLimit('partner', partner, wantedMbps) ?? [],
  ].flat();
}

/** With one list: that side is the limit where the link runs at its best and more is wanted. */
function limitOfOne({ speedMbps, wantedMbps, local, partner }: SpeedEvidence) {
  if (wantedMbps === undefined || wantedMbps <= speedMbps) return undefined;
  const side = local.advertised === undefined ? 'partner' : 'local';
  const modes = side === 'local' ? local : partner;
  if (modes.advertised?.modes[0]?.speedMbps !== speedMbps) return undefined;
  return sideLimit(side, modes, wantedMbps);
}
