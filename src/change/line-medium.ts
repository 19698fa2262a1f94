import { parsePhy } from '../ethernet/phy.ts';
import { reachOfRun } from '../ethernet/run-reach.ts';
import type { PortSurvey } from '../facts/survey.ts';
import type { RunPiece } from '../intent/types.ts';
import { offeredModes } from '../site/port-modes.ts';

/** Whether a link runs over the four-pair cable of the trade, or over anything else. */
export type LineMedium = 'twisted-pair' | 'other';

/** By the PHY in use, else by what the port can do; undefined: neither was read, or it can do both. */
export function mediumOfPort({ facts }: PortSurvey): LineMedium | undefined {
  const inUse = facts.phyText === undefined ? undefined : parsePhy(facts.phyText);
  // 10GBASE-R and 1000BASE-X do not name their medium, and are no twisted pair (IEEE 802.3, 1.4).
  if (inUse !== undefined) return inUse.medium === 'twisted-pair' ? 'twisted-pair' : 'other';
  const media = new Set(
    (offeredModes(facts.supportedModes ?? [], '')?.modes ?? []).map(({ medium }) =>
      medium === 'twisted-pair' ? 'twisted-pair' : 'other',
    ),
  );
  const [only] = media;
  return media.size === 1 ? only : undefined;
}

/** By what is declared of the run; undefined: it does not tell. */
export function mediumOfRun(run: readonly RunPiece[]): LineMedium | undefined {
  const medium = reachOfRun(run)?.medium;
  if (medium === undefined) return undefined;
  return medium === 'copper' ? 'twisted-pair' : 'other';
}
