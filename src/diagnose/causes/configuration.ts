import { rateWords } from '../../ethernet/run-brake.ts';
import type { EndView } from '../end-view.ts';
import { cannotReach, isVirtualLink, type LinkView } from '../link-view.ts';
import { againstOneSpeed, elementIds, type LinkRule, runsAt } from './cause-rule.ts';
import { canFacts, limitedEnds, offerFacts, saysItOffers, uniqueEnds } from './offered-modes.ts';

/** A side does not offer what it could, or is fixed below it. */
export const configuration: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  const limited = limitedEnds(view, 'advertisement').filter((end) => !saysItOffers(view, end));
  return uniqueEnds([...limited, ...fixedBelow(view)]).map((end) => ({
    kind: 'configuration',
    proof: 'is',
    what: `the configuration of ${end.id}: ${
      end.facts.autoNegotiation === false
        ? 'its speed is fixed'
        : `it does not offer ${rateWords(view.ratedMbps ?? 0)}, which it can`
    }`,
    element: elementIds.end(end),
    for: [...offerFacts(view, end), ...canFacts(end), ...runsAt(end)],
    against: againstOneSpeed(view),
    remedy: `let ${end.id} negotiate all its modes`,
    settledBy: `let ${end.id} offer all its modes and read the speed again`,
  }));
};

/** Ends that do not negotiate and run below what they could and should. */
function fixedBelow(view: LinkView): readonly EndView[] {
  const { ratedMbps, ends } = view;
  if (ratedMbps === undefined) return [];
  const byHand = view.sides.some(({ cause }) => cause?.kind === 'not-negotiated');
  return ends.filter(
    (end) =>
      (end.facts.autoNegotiation === false || byHand) &&
      end.facts.speedMbps !== undefined &&
      end.facts.speedMbps < ratedMbps &&
      !cannotReach(end, ratedMbps),
  );
}
