import type { CauseDraft } from '../cause.ts';
import type { EndView } from '../end-view.ts';
import { isVirtualLink, type LinkView } from '../link-view.ts';
import { againstOneSpeed, elementIds, type LinkRule } from './cause-rule.ts';
import { limitedEnds, offerFacts, uniqueEnds } from './offered-modes.ts';
import { swapTest } from './swap-test.ts';

/** A side offers less than is wanted, and it is not known whether it could more. */
export const offer: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return uniqueEnds(limitedEnds(view, 'unread')).map((end) => offerOf(view, end, 'likely'));
};

/** The setting of an end, or what it can, where the two cannot be told apart. */
export function offerOf(view: LinkView, end: EndView, proof: CauseDraft['proof']): CauseDraft {
  const facts = offerFacts(view, end);
  return {
    kind: 'offer',
    proof,
    what: `the setting of ${end.id}, or what it can`,
    element: elementIds.end(end),
    for: facts.length > 0 ? facts : [{ says: `what ${end.id} offers could not be read` }],
    against: againstOneSpeed(view),
    remedy: `look up which speeds ${end.id} can and is set to offer`,
    settledBy: swapTest(view),
  };
}
