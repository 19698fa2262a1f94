import { parsePhy } from '../ethernet/phy.ts';
import type { EndView } from './end-view.ts';
import { type LinkView, mediumOf } from './link-view.ts';

/**
 * The PHY in use at an end, as IEEE 802.3 names it: as read, by its module, by the only mode of its
 * speed that it offers, or, on twisted pair, by the speed. Undefined: nothing tells.
 */
export function phyOfEnd(view: LinkView, end: EndView): string | undefined {
  const { phyText, moduleText, speedMbps } = end.facts;
  const named = [phyText, moduleText].find((text) => parsePhy(text ?? '') !== undefined);
  if (named !== undefined) return named;
  if (speedMbps === undefined) return undefined;
  const modes = (end.advertised ?? end.capable)?.modes ?? [];
  const phys = new Set(
    modes.flatMap((mode) => (mode.speedMbps === speedMbps ? (mode.phy ?? []) : [])),
  );
  const [only] = phys;
  if (phys.size === 1) return only;
  const medium = mediumOf(view);
  if (medium === 'copper') return twistedPair[speedMbps];
  return medium === 'direct-attach' && speedMbps === 10_000 ? '10GBASE-CR' : undefined;
}

/** The PHYs of twisted pair that are built, by speed in Mb/s. */
const twistedPair: Readonly<Record<number, string>> = {
  10: '10BASE-T',
  100: '100BASE-TX',
  1000: '1000BASE-T',
  2500: '2.5GBASE-T',
  5000: '5GBASE-T',
  10000: '10GBASE-T',
};
