import { rateWords } from '../../ethernet/run-brake.ts';
import { isSlow, isVirtualLink } from '../link-view.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';
import { weakPiece } from './swap-test.ts';

/** A run that is not specified for what it carries: it works, and may not tomorrow. */
export const unratedRun: LinkRule = (view) => {
  const { run, ratedMbps } = view;
  if (run?.carriesWanted !== 'no' || run.standing === 'refused' || ratedMbps === undefined)
    return [];
  const weak = weakPiece(view);
  if (weak === undefined || isSlow(view) || view.up === false || isVirtualLink(view)) return [];
  return [
    {
      kind: 'run',
      proof: 'check',
      what: `the run, which is not specified for ${rateWords(ratedMbps)}: ${weak.piece.text}`,
      element: elementIds.piece(weak.pieceIndex),
      for: [{ says: `${weak.piece.text}: ${weak.reason}` }],
      remedy: `replace ${weak.piece.text}`,
      settledBy: 'count errors and losses of link on both ends over a week',
    },
  ];
};
