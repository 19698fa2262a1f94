import { rateWords } from '../../ethernet/run-brake.ts';
import { highestMbps } from '../../site/port-modes.ts';
import { cannotReach, isSlow, isVirtualLink } from '../link-view.ts';
import { elementIds, type LinkRule, runsAt } from './cause-rule.ts';
import { canFacts } from './offered-modes.ts';

/** A side cannot reach what the link is meant to run at. */
export const capability: LinkRule = (view) => {
  const { ratedMbps, ends } = view;
  if (!isSlow(view) || isVirtualLink(view) || ratedMbps === undefined) return [];
  return ends
    .filter((end) => cannotReach(end, ratedMbps))
    .map((end) => ({
      kind: 'capability',
      proof: 'is',
      what: `the capability of ${end.id}: it cannot run at ${rateWords(ratedMbps)}`,
      element: elementIds.end(end),
      for: [...canFacts(end), ...runsAt(end)],
      remedy: `use another port or adapter there, or declare ${rateWords(highestMbps(end.capable) ?? 0)}`,
      settledBy: `compare the data sheet of ${end.id} with what it says that it can`,
    }));
};
