import type { Duplex, LinkModes } from '../../src/ethernet/link-mode.ts';
import { resolveNegotiation } from '../../src/ethernet/resolve-negotiation.ts';

/** How a twisted-pair port is set. */
export type PortSetting =
  | { readonly auto: true; readonly offers: LinkModes }
  | { readonly auto: false; readonly speedMbps: number; readonly duplex: Duplex };

type Forced = Extract<PortSetting, { auto: false }>;

/** What comes of two settings. */
export type SettledLink =
  | {
      readonly kind: 'linked';
      readonly speedMbps: number;
      /** Of the first and of the second port; where they differ, frames are lost under load. */
      readonly duplexes: readonly [Duplex, Duplex];
      readonly by: 'negotiation' | 'parallel-detection' | 'settings';
    }
  | { readonly kind: 'no-link'; readonly why: 'no-common-mode' | 'speeds-differ' }
  /** IEEE 802.3 has no answer; devices differ. */
  | { readonly kind: 'not-defined'; readonly why: 'forced-speed' | 'no-half-duplex' };

/**
 * What becomes of two twisted-pair ports of which everything is known: the oracle of `settleLink`,
 * which has to do with what is not known as well.
 *
 * A port that negotiates against one that is fixed hears no fast link pulses; it knows the speed
 * by the signal, 10 or 100 Mb/s, and takes half duplex, for it cannot know better (IEEE 802.3
 * 28.2.3.1, secondary source). Two fixed ports link at one speed, each in its own duplex. 1000 Mb/s
 * and more need negotiation on copper (secondary source), so fixing them is not defined, and
 * neither is finding half duplex where the port does not offer it (from memory).
 */
export function parallelDetection(first: PortSetting, second: PortSetting): SettledLink {
  if (first.auto && second.auto) return negotiated(first.offers, second.offers);
  if (first.auto) return second.auto ? noCommon : detected(first.offers, second, false);
  if (second.auto) return detected(second.offers, first, true);
  return bothForced(first, second);
}

const noCommon: SettledLink = { kind: 'no-link', why: 'no-common-mode' };

function negotiated(first: LinkModes, second: LinkModes): SettledLink {
  const mode = resolveNegotiation(first, second);
  if (mode === undefined) return noCommon;
  const { speedMbps, duplex } = mode;
  return { kind: 'linked', speedMbps, duplexes: [duplex, duplex], by: 'negotiation' };
}

function detected(offers: LinkModes, forced: Forced, forcedFirst: boolean): SettledLink {
  const { speedMbps, duplex } = forced;
  if (!canBeForced(speedMbps)) return { kind: 'not-defined', why: 'forced-speed' };
  const phy = speedMbps === 10 ? '10BASE-T' : '100BASE-TX';
  const same = offers.filter((mode) => mode.phy === phy);
  if (same.length === 0) return noCommon;
  if (!same.some((mode) => mode.duplex === 'half'))
    return { kind: 'not-defined', why: 'no-half-duplex' };
  return {
    kind: 'linked',
    speedMbps,
    duplexes: forcedFirst ? [duplex, 'half'] : ['half', duplex],
    by: 'parallel-detection',
  };
}

function bothForced(first: Forced, second: Forced): SettledLink {
  const { speedMbps } = first;
  if (speedMbps !== second.speedMbps) return { kind: 'no-link', why: 'speeds-differ' };
  if (!canBeForced(speedMbps)) return { kind: 'not-defined', why: 'forced-speed' };
  return {
    kind: 'linked',
    speedMbps,
    duplexes: [first.duplex, second.duplex],
    by: 'settings',
  };
}

function canBeForced(speedMbps: number): boolean {
  return speedMbps === 10 || speedMbps === 100;
}
