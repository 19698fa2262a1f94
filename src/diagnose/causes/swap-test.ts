import { rateWords } from '../../ethernet/run-brake.ts';
import { type LinkView, mediumOf } from '../link-view.ts';
import { bothEnds } from './cause-rule.ts';

/** Copper cord that carries the rate in Mb/s for certain over the length of a cord. */
function cordFor(rateMbps: number | undefined): string {
  return (rateMbps ?? 0) > 1000 ? 'Cat6a cord' : 'Cat5e or better cord';
}

/** The piece that the run's reach points at; undefined: it carries what is wanted, or no run. */
export function weakPiece({ run, link }: LinkView) {
  if (run?.limitedBy === undefined || run.carriesWanted === 'assured') return undefined;
  const { pieceIndex, reason } = run.limitedBy;
  const piece = link.declared.run[pieceIndex];
  return piece === undefined ? undefined : { piece, pieceIndex, reason };
}

/** The one test that tells the run from the ports, with the least to unplug. */
export function swapTest(view: LinkView): string {
  const weak = weakPiece(view);
  const good = goodCable(view);
  const speed = view.ratedMbps === undefined ? 'faster' : `at ${rateWords(view.ratedMbps)}`;
  if (weak?.piece.kind === 'cord') {
    return `put a known-good ${good} in the place of ${weak.piece.text} and read the speed again: if it then runs ${speed}, the cord was it; if not, join ${bothEnds(view)} by that cord alone`;
  }
  return `join ${bothEnds(view)} by one known-good ${good} alone and read the speed again: if it then runs ${speed}, the run is at fault, so put its pieces back one by one; if not, one of the ports is, so try the next port`;
}

function goodCable(view: LinkView): string {
  const medium = mediumOf(view);
  if (medium === 'fibre') return 'fibre cord of the same kind';
  if (medium === 'direct-attach') return 'direct-attach cable';
  return cordFor(view.ratedMbps);
}
