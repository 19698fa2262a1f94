import { errorRate } from '../../ethernet/error-rate.ts';
import { phyErrorLimit } from '../../ethernet/phy-error-limit.ts';
import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { isVirtualLink, type LinkView } from '../link-view.ts';
import { phyOfEnd } from '../phy-of-end.ts';
import { bothEnds, elementIds, type LinkRule } from './cause-rule.ts';
import { swapTest } from './swap-test.ts';

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

/** More errors than the PHY may make. */
export const errors: LinkRule = (view) => {
  if (isVirtualLink(view)) return [];
  return view.ends.flatMap((end) => {
    const found = errorVerdict(view, end);
    if (found?.verdict !== 'worse-than-limit') return [];
    return [
      {
        kind: 'errors',
        proof: 'likely',
        what: `a cable, a connector or an optic between ${bothEnds(view)}, in the direction to ${end.id}`,
        element: elementIds.run,
        for: [{ ...readFact(end, found.says, 'rxCrcErrors') }, ...codingErrors(end)],
        against: [...fromElsewhere(end), ...duplexMakesThem(view)],
        remedy: 'reseat the plugs, clean optics, replace the cords of this run',
        settledBy: `${swapTest(view)}; count again after as much traffic as before`,
      } as const,
    ];
  });
};

function codingErrors(end: EndView): readonly SeenFact[] {
  const { rxSymbolErrors = 0 } = end.facts;
  if (rxSymbolErrors === 0) return [];
  return [
    readFact(
      end,
      `${end.id} counted ${rxSymbolErrors} coding errors, which arise on this cable`,
      'rxSymbolErrors',
    ),
  ];
}

/** A switch that passes frames on before their end passes broken ones on too. */
function fromElsewhere(end: EndView): readonly SeenFact[] {
  if (end.facts.rxSymbolErrors !== 0) return [];
  return [
    readFact(
      end,
      'no coding errors: a switch that forwards before the end of a frame may pass them on from elsewhere',
      'rxSymbolErrors',
    ),
  ];
}

function duplexMakesThem({ ends: [a, b] }: LinkView): readonly SeenFact[] {
  if (a.duplex === undefined || b.duplex === undefined || a.duplex === b.duplex) return [];
  return [{ says: 'the two ends differ in duplex, which makes such errors' }];
}
