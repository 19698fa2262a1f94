import { rateWords } from '../../ethernet/run-brake.ts';
import type { CauseDraft, SeenFact } from '../cause.ts';
import { readFact } from '../end-view.ts';
import {
  cannotReach,
  hasUnequalEnds,
  isSlow,
  isVirtualLink,
  type LinkSide,
  type LinkView,
  slowestMbps,
} from '../link-view.ts';
import { againstOneSpeed, bothEnds, elementIds, type LinkRule, runsAt } from './cause-rule.ts';
import { offerOf } from './offer.ts';
import { saysItOffers } from './offered-modes.ts';
import { swapTest, weakPiece } from './swap-test.ts';

/** Both ends offer more than they run at: the pieces between them, or a plug. */
export const downshift: LinkRule = (view) => {
  const side = view.sides.find(({ cause }) => cause?.kind === 'downshift');
  if (side?.cause?.kind !== 'downshift' || isVirtualLink(view)) return [];
  const { highest } = side.cause;
  const lists = `both ends offer ${rateWords(highest.speedMbps)}`;
  return [
    {
      ...cableOf(view),
      proof: 'is',
      for: [readFact(side.end, lists, 'partnerModes'), ...runsAt(side.end), ...runFacts(view)],
      against: againstOneSpeed(view),
    },
  ];
};

/** Slow, and no pair of lists tells cable from configuration. */
export const perhapsCable: LinkRule = (view) => {
  // Two speeds on one cable are no fault of the cable.
  if (!isSlow(view) || isVirtualLink(view) || hasUnequalEnds(view)) return [];
  if (view.sides.some((side) => isTold(view, side))) return [];
  if (view.ends.some((end) => cannotReach(end, view.ratedMbps ?? 0))) return [];
  const facts = runFacts(view);
  return [
    {
      ...cableOf(view),
      // What a run is not rated for may run all the same, and one that is rated may be broken.
      proof: view.run?.carriesWanted === 'no' ? 'likely' : 'check',
      for: [...view.ends.flatMap(runsAt), ...facts],
    },
    ...view.ends
      .filter((end) => end.advertised === undefined)
      .map((end) => offerOf(view, end, 'check')),
  ];
};

/** The lists of one side decided why it runs as it does; not where its partner contradicts them. */
function isTold(view: LinkView, { cause, end, far }: LinkSide): boolean {
  if (cause === undefined) return false;
  if (cause.kind === 'limited-by') {
    return cause.limits.some(({ side }) => !saysItOffers(view, side === 'local' ? end : far));
  }
  return ['downshift', 'fixed', 'as-negotiated', 'not-negotiated'].includes(cause.kind);
}

function cableOf(view: LinkView): Omit<CauseDraft, 'proof' | 'for'> {
  const weak = weakPiece(view);
  const fault = weak === undefined ? '' : `; ${weak.piece.text} first`;
  return {
    kind: 'cable',
    what: `the cable or a connector between ${bothEnds(view)}${fault}`,
    element: weak === undefined ? elementIds.run : elementIds.piece(weak.pieceIndex),
    remedy:
      weak === undefined
        ? 'reseat the plugs, then replace the cords, then look at jacks and panels, then the wall cable'
        : `replace ${weak.piece.text}`,
    settledBy: swapTest(view),
  };
}

function runFacts(view: LinkView): readonly SeenFact[] {
  const weak = weakPiece(view);
  const speed = slowestMbps(view);
  return [
    ...(weak === undefined ? [] : [{ says: `${weak.piece.text}: ${weak.reason}` }]),
    ...(view.run !== undefined && view.run.fieldTerminated > 0
      ? [{ says: `${view.run.fieldTerminated} of its pieces have plugs that were put on by hand` }]
      : []),
    ...(speed === 100
      ? [
          {
            says: '100 Mb/s needs two of the four pairs and 1 Gb/s all four: one pair may be broken',
            source: 'IEEE 802.3 clauses 25 and 40',
          },
        ]
      : []),
  ];
}
