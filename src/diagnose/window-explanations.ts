import { goodputMbps } from '../ethernet/goodput.ts';
import { unscaledWindowBytesMax, windowLimitedMbps, windowRttMs } from '../ethernet/tcp-window.ts';
import type { FigureGiven, WindowExplanation } from './explanation.ts';
import { usualPacketsBytes } from './link-explanations.ts';
import type { MeasuredFigure } from './measured-figure.ts';

/** A round trip is known to a tenth at best: it moves with the load that is measured. */
const rttShare = 0.1;
/** Round trips in ms that a path has: within a switch, and around the earth. */
const rttMsMin = 0.02;
const rttMsMax = 400;

/**
 * The window that TCP has without scaling, if it explains a figure over the given round trip; or,
 * where none is given, over a round trip that a path can have.
 */
export function windowExplanations(
  figure: MeasuredFigure,
  given: FigureGiven,
): WindowExplanation[] {
  const windowBytes = unscaledWindowBytesMax;
  const needsMs = windowRttMs(windowBytes, figure.mbps);
  if (needsMs < rttMsMin || needsMs > rttMsMax) return [];
  const rttGiven = given.rttMs !== undefined;
  const rttMs = given.rttMs ?? needsMs;
  const expectedMbps = rttGiven ? windowLimitedMbps(windowBytes, rttMs) : figure.mbps;
  if (expectedMbps >= ceilingMbps(given)) return [];
  const offShare = figure.mbps / expectedMbps - 1;
  if (Math.abs(offShare) > rttShare + figure.roundingShare) return [];
  return [{ kind: 'window', windowBytes, rttMs, rttGiven, expectedMbps, offShare }];
}

function ceilingMbps({ rateMbps, packetBytes, stack }: FigureGiven): number {
  if (rateMbps === undefined) return Number.POSITIVE_INFINITY;
  return goodputMbps(rateMbps, packetBytes ?? Math.max(...usualPacketsBytes), stack);
}
