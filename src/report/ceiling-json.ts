import { ceilingsOf } from '../diagnose/figure-fit.ts';
import { carriedBytes } from '../ethernet/goodput.ts';
import {
  connectionsToFill,
  unscaledWindowBytesMax,
  windowBytesMin,
  windowLimitedMbps,
} from '../ethernet/tcp-window.ts';
import { stableJson } from '../facts/json.ts';
import type { CeilingResult } from './ceiling-text.ts';

/** The ceiling and the explanations as JSON: equal results give equal bytes. */
export function ceilingJson({ ceiling, rttMs, seconds, measured, places }: CeilingResult): string {
  return stableJson({
    ceiling: 1,
    line: ceiling,
    window:
      ceiling === undefined || rttMs === undefined
        ? undefined
        : windowOf({ rateMbps: ceiling.rateMbps, rttMs }),
    transfer:
      ceiling === undefined || seconds === undefined
        ? undefined
        : { seconds, bytes: Math.round(carriedBytes(ceiling.goodputMbps, seconds)) },
    measured: measured && {
      text: measured.text,
      ...measured.figure,
      ...ceilingsOf(measured.figure),
      given: measured.given,
      ...measured.diagnosis,
    },
    places,
  });
}

function windowOf(path: { readonly rateMbps: number; readonly rttMs: number }) {
  return {
    rttMs: path.rttMs,
    bytesMin: windowBytesMin(path),
    unscaledBytesMax: unscaledWindowBytesMax,
    unscaledMbps: windowLimitedMbps(unscaledWindowBytesMax, path.rttMs),
    unscaledConnectionsToFill: connectionsToFill(path, unscaledWindowBytesMax),
  };
}
