import { errorRate } from '../ethernet/error-rate.ts';
import { judgeOptic } from '../ethernet/optics.ts';
import { phyErrorLimit } from '../ethernet/phy-error-limit.ts';
import type { Medium } from '../ethernet/run-piece.ts';
import { trafficBetween } from '../ethernet/traffic-between.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { countedSince } from './counted-since.ts';
import { mediumOfName } from './phy-of-port.ts';
import { type Draft, put } from './provenance.ts';
import type { PortRef } from './site-index.ts';

const countersBegan = { frames: 0, octets: 0, erroredFrames: 0 } as const;

/**
 * Enters what the broken frames that a port received say, since an earlier night where there is
 * one to count from, else since its counters began.
 */
export function putErrors(draft: Draft, ref: PortRef, phy: string | undefined): void {
  const limit = phy === undefined ? undefined : phyErrorLimit(phy);
  const now = ref.survey?.facts ?? {};
  const counted = countedBy(now);
  if (limit === undefined || counted === undefined) return;
  const since = countedSince(ref);
  // Two nights that do not count the same errors have no growth between them.
  const alike =
    (since?.facts.rxAlignmentErrors === undefined) === (now.rxAlignmentErrors === undefined);
  const before = since === undefined || !alike ? undefined : countedBy(since.facts);
  const grown = before === undefined ? undefined : trafficBetween(before, counted, { bits: 64 });
  // A counter that was reset by hand is judged since it began again.
  const goesOn = grown !== undefined && 'traffic' in grown;
  const outcome = goesOn ? grown : trafficBetween(countersBegan, counted, { bits: 64 });
  // Counters that contradict each other are doubtful, and so is what follows from them.
  if ('gap' in outcome) {
    for (const name of errorFacts) put(draft, name, undefined, outcome.gap);
    return;
  }
  const rate = errorRate(outcome.traffic, limit);
  put(draft, 'errorVerdict', rate.verdict);
  put(draft, 'errorRatio', rate.ratio);
  put(draft, 'errorLimitRatio', rate.limit);
  put(draft, 'brokenFrames', outcome.traffic.erroredFrames);
  put(draft, 'countedFrames', outcome.traffic.frames);
  put(draft, 'countedSince', goesOn && since !== undefined ? since.at : 'its counters began');
}

const errorFacts = [
  'errorVerdict',
  'errorRatio',
  'errorLimitRatio',
  'brokenFrames',
  'countedFrames',
  'countedSince',
];

function countedBy({ rxCrcErrors, rxAlignmentErrors = 0, rxFrames, rxOctets }: PortReadFacts) {
  if (rxCrcErrors === undefined || rxFrames === undefined || rxOctets === undefined)
    return undefined;
  return { frames: rxFrames, octets: rxOctets, erroredFrames: rxCrcErrors + rxAlignmentErrors };
}

/** What carries the light. */
interface Line {
  readonly phy: string | undefined;
  /** Of the declared run. */
  readonly medium: Medium | undefined;
}

/** Enters what the light that a port receives says; cables of copper have monitors of nothing. */
export function putLight(draft: Draft, facts: PortReadFacts, { phy, medium }: Line): void {
  const { rxPowerDbm, rxPowerLowDbm, rxPowerHighDbm } = facts;
  const optical = (medium ?? mediumOfName(phy)) === 'fibre';
  if (rxPowerDbm === undefined || !optical) return;
  const found = judgeOptic({
    direction: 'rx',
    powerDbm: rxPowerDbm,
    thresholds: {
      ...(rxPowerLowDbm === undefined ? {} : { lowWarningDbm: rxPowerLowDbm }),
      ...(rxPowerHighDbm === undefined ? {} : { highWarningDbm: rxPowerHighDbm }),
    },
    ...(phy === undefined ? {} : { phy }),
  });
  if (found.verdict === 'unknown') return;
  put(draft, 'rxPowerVerdict', found.verdict);
  put(draft, 'rxPowerMarginDb', found.marginDb);
}
