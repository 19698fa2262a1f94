import type { LinkMode, OfferedModes } from './link-mode.ts';
import { linkModes } from './link-modes.ts';
import { parsePhy, phyOf } from './phy.ts';

/** More than any adapter has; the rest of a longer list is kept aside unread. */
const namesMax = 256;

/**
 * Reads link modes as `ethtool` spells them: `1000baseT/Full`, `25000baseCR/Full`. What is not a
 * mode of IEEE 802.3 by its name is kept aside, among it the `BIT92` that an older `ethtool`
 * prints for a mode it does not know.
 */
export function parseEthtoolModes(names: readonly string[]): OfferedModes {
  const read = names.slice(0, namesMax).map((name) => ({ name, mode: parseEthtoolMode(name) }));
  return {
    modes: linkModes(read.flatMap(({ mode }) => mode ?? [])),
    aside: [
      ...read.filter(({ mode }) => mode === undefined).map(({ name }) => name),
      ...names.slice(namesMax),
    ],
    silentMbps: [],
  };
}

/** One mode of `ethtool`; undefined where the name is none that IEEE 802.3 accounts for. */
export function parseEthtoolMode(name: string): LinkMode | undefined {
  // The one mode that is printed without a duplex; its FEC is no mode of its own.
  const text = name === '10000baseR_FEC' ? '10000baseR/Full' : name;
  const [, speed = '', suffix = '', duplexWord] =
    /^(\d{2,7})base([A-Z][A-Z0-9_]{0,15})\/(Full|Half)$/.exec(text) ?? [];
  if (duplexWord === undefined || speed.startsWith('0')) return undefined;
  const found = phyOf(Number(speed), standardSuffix(Number(speed), suffix));
  const duplex = duplexWord === 'Full' ? 'full' : 'half';
  if (found === undefined || !found.duplexes.includes(duplex)) return undefined;
  return { speedMbps: found.speedMbps, duplex, medium: found.medium, phy: found.phy };
}

/** A mode as `ethtool` spells it; undefined where the mode names no PHY. */
export function ethtoolModeName({ phy, duplex }: LinkMode): string | undefined {
  const found = phy === undefined ? undefined : parsePhy(phy);
  if (found === undefined) return undefined;
  const suffix = found.phy.slice(found.phy.indexOf('-') + 1).replaceAll(/[-/]/g, '_');
  const word = suffix === 'TX' ? 'T' : suffix;
  return `${found.speedMbps}base${word}/${duplex === 'full' ? 'Full' : 'Half'}`;
}

function standardSuffix(speedMbps: number, suffix: string): string {
  if (suffix === 'T' && speedMbps === 100) return 'TX';
  // `CR_S` and `DR8_2` name a variant, `LR4_ER4` either of two.
  return suffix.replace(/_([S2])$/, '-$1').replaceAll('_', '/');
}
