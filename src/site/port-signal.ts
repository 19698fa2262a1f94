import { errorRate } from '../ethernet/error-rate.ts';
import { judgeOptic } from '../ethernet/optics.ts';
import { phyErrorLimit } from '../ethernet/phy-error-limit.ts';
import type { Medium } from '../ethernet/run-piece.ts';
import { trafficBetween } from '../ethernet/traffic-between.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { mediumOfName } from './phy-of-port.ts';
import { type Draft, put } from './provenance.ts';

const countersBegan = { frames: 0, octets: 0, erroredFrames: 0 } as const;

/** Enters what the broken frames that a port received say, since its counters began. */
export function putErrors(draft: Draft, facts: PortReadFacts, phy: string | undefined): void {
  const { rxCrcErrors, rxAlignmentErrors = 0, rxFrames, rxOctets } = facts;
  const limit = phy === undefined ? undefined : phyErrorLimit(phy);
  if (limit === undefined || rxCrcErrors === undefined) return;
  if (rxFrames === undefined || rxOctets === undefined) return;
  const counted = {
    frames: rxFrames,
    octets: rxOctets,
    erroredFrames: rxCrcErrors + rxAlignmentErrors,
  };
  // Counters that contradict each other are doubtful, and so is what follows from them.
  const outcome = trafficBetween(countersBegan, counted, { bits: 64 });
  if ('gap' in outcome) {
    for (const name of ['errorVerdict', 'errorRatio', 'errorLimitRatio'])
      put(draft, name, undefined, outcome.gap);
    return;
  }
  const rate = errorRate(outcome.traffic, limit);
  put(draft, 'errorVerdict', rate.verdict);
  put(draft, 'errorRatio', rate.ratio);
  put(draft, 'errorLimitRatio', rate.limit);
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
