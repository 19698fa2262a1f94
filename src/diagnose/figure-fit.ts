import type { MeasuredFigure } from './measured-figure.ts';

/**
 * Clocks of Ethernet may differ by 100 ppm (RFC 5180 A.1, IEEE 802.3): by so much a figure can
 * exceed what was reckoned, and by no more.
 */
export const clockShare = 100e-6;

/**
 * By so much a figure falls short of what the line allows: starting slowly, a loss sent again,
 * the time to open and to close (common practice for transfers of 10 s and more).
 */
export const shortShare = 0.01;

/** Mb/s that a sound measurement of this figure can have had as its ceiling. */
export interface CeilingRange {
  readonly leastMbps: number;
  readonly mostMbps: number;
}

/** The ceilings that a figure fits: one-sided, since nothing runs faster than its line. */
export function ceilingsOf({ mbps, roundingShare }: MeasuredFigure): CeilingRange {
  return {
    leastMbps: (mbps * (1 - roundingShare)) / (1 + clockShare),
    mostMbps: (mbps * (1 + roundingShare)) / (1 - shortShare),
  };
}

/** Whether a figure fits a ceiling. */
export function fitsCeiling(figure: MeasuredFigure, ceilingMbps: number): boolean {
  const { leastMbps, mostMbps } = ceilingsOf(figure);
  return ceilingMbps >= leastMbps && ceilingMbps <= mostMbps;
}
