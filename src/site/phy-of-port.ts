import { parsePhy } from '../ethernet/phy.ts';
import type { Medium } from '../ethernet/run-piece.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortModes } from './port-modes.ts';

/**
 * The PHY in use at a port, as IEEE 802.3 names it: as read, by its module, by the only mode of its
 * speed that it offers, or by its speed and the medium of the run. Undefined: nothing tells.
 */
export function phyOfPort(
  facts: PortReadFacts,
  { advertised, capable }: PortModes,
  medium: Medium | undefined,
): string | undefined {
  const named = [facts.phyText, facts.moduleText].find((text) => parsePhy(text ?? ''));
  const { speedMbps } = facts;
  if (named !== undefined || speedMbps === undefined) return named;
  const modes = (advertised ?? capable)?.modes ?? [];
  const phys = new Set(
    modes.flatMap((mode) => (mode.speedMbps === speedMbps ? (mode.phy ?? []) : [])),
  );
  const [only] = phys;
  if (phys.size === 1) return only;
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

/** Medium that the name of a PHY stands for; undefined for other texts, and where it names none. */
export function mediumOfName(text: string | undefined): Medium | undefined {
  switch (parsePhy(text ?? '')?.medium) {
    case 'twisted-pair':
      return 'copper';
    case 'fibre':
      return 'fibre';
    case 'direct-attach':
      return 'direct-attach';
    default:
      return undefined;
  }
}
