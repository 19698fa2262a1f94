import { errorRate } from '../ethernet/error-rate.ts';
import { phyErrorLimit } from '../ethernet/phy-error-limit.ts';
import type { EndView } from './end-view.ts';
import type { LinkView } from './link-view.ts';
import { phyOfEnd } from './phy-of-end.ts';

/** What the errors of an end say. */
export interface ErrorView {
  readonly verdict: 'worse-than-limit' | 'within' | 'cannot-tell-yet';
  readonly says: string;
  /** Further octets after which it could be told; absent: it is told, or cannot be. */
  readonly moreOctets?: number;
}

/** Share of broken frames from which practice looks at a cable (common practice: 1e-6 to 1e-5). */
const frameShareMax = 1e-6;
/** Fewer than this in all are no finding where no PHY sets a limit (common practice: ten a day). */
const framesMin = 10;

/** Judges the errors that an end received by the traffic that it carried; undefined: not read. */
export function errorVerdict(view: LinkView, end: EndView): ErrorView | undefined {
  const { rxCrcErrors, rxAlignmentErrors = 0, rxFrames, rxOctets } = end.facts;
  if (rxCrcErrors === undefined || rxFrames === undefined) return undefined;
  const erroredFrames = rxCrcErrors + rxAlignmentErrors;
  const phy = phyOfEnd(view, end);
  const limit = phy === undefined ? undefined : phyErrorLimit(phy);
  const counted = `${end.id} counted ${erroredFrames} broken frames beside ${rxFrames} good ones`;
  if (limit === undefined || rxOctets === undefined) {
    const worse = erroredFrames >= framesMin && erroredFrames / rxFrames > frameShareMax;
    if (worse) {
      return { verdict: 'worse-than-limit', says: `${counted}, more than one in a million` };
    }
    return { verdict: erroredFrames === 0 ? 'within' : 'cannot-tell-yet', says: counted };
  }
  const rate = errorRate({ frames: rxFrames, octets: rxOctets, erroredFrames }, limit);
  const unit = rate.judgedBy === 'bit-error-ratio' ? 'bit error ratio' : 'frame loss ratio';
  const least = rate.atLeast === undefined ? '' : `${rate.atLeast.toExponential(1)} at least, `;
  const says = `${counted}: ${unit} ${least}limit of ${limit.phy} ${rate.limit.toExponential(1)}`;
  const more = rate.moreOctets === undefined ? {} : { moreOctets: rate.moreOctets };
  return { verdict: rate.verdict, says, ...more };
}
