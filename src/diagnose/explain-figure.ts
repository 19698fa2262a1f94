import { goodputMbps } from '../ethernet/goodput.ts';
import { busExplanations } from './bus-explanations.ts';
import { type Explanation, type FigureGiven, linkRoles } from './explanation.ts';
import { ceilingsOf } from './figure-fit.ts';
import { linkExplanations, pairsOf, usualPacketsBytes } from './link-explanations.ts';
import type { MeasuredFigure } from './measured-figure.ts';
import { windowExplanations } from './window-explanations.ts';

/** What a measured figure says of the path it was measured on. */
export interface FigureDiagnosis {
  /** The likeliest first. */
  readonly explanations: readonly Explanation[];
  /** The figure is more than the given line can carry. */
  readonly aboveCeiling: boolean;
  /**
   * The links whose ceilings are next to the figure, where nothing explains it but a round trip
   * that nobody has measured.
   */
  readonly below?: NearLink;
  readonly above?: NearLink;
}

/** The rate and packet whose ceiling comes nearest to a figure that fits none. */
export interface NearLink {
  readonly rateMbps: number;
  readonly packetBytes: number;
  readonly goodputMbps: number;
}

/**
 * Ranks what explains a figure. The narrower a claim, the earlier: a rate and a packet come out to
 * one per cent, a known round trip to a tenth, a bus to a range, and some round trip always, so
 * that it is told only where no link comes out. Where the line as given explains the figure,
 * nothing else is looked for.
 */
export function explainFigure(figure: MeasuredFigure, given: FigureGiven): FigureDiagnosis {
  const links = linkExplanations(figure, given);
  const asGiven = links.filter(({ role }) => role === 'as-given');
  const all: Explanation[] = [
    ...links,
    ...busExplanations(figure, given),
    ...windowExplanations(figure, given).filter(({ rttGiven }) => rttGiven || links.length === 0),
  ];
  const explanations = (asGiven.length > 0 ? asGiven : all).toSorted(byLikelihood);
  const aboveCeiling =
    given.rateMbps !== undefined && ceilingsOf(figure).leastMbps > mostMbps(given, given.rateMbps);
  return {
    explanations,
    aboveCeiling,
    ...(explanations.some(isMoreThanGuess) ? {} : neighbours(figure, given)),
  };
}

function mostMbps({ packetBytes, stack }: FigureGiven, rateMbps: number): number {
  return goodputMbps(rateMbps, packetBytes ?? Math.max(...usualPacketsBytes), stack);
}

function byLikelihood(a: Explanation, b: Explanation): number {
  return rankOf(a) - rankOf(b) || offOf(a) - offOf(b);
}

function rankOf(explanation: Explanation): number {
  const afterLinks = linkRoles.length;
  switch (explanation.kind) {
    case 'link':
      return linkRoles.indexOf(explanation.role);
    case 'usb-2':
      return afterLinks;
    case 'window':
      return explanation.rttGiven ? afterLinks + 1 : afterLinks + 3;
    case 'bus':
      return afterLinks + 2;
  }
}

/** Some round trip explains every figure; that is no explanation until it is measured. */
export function isMoreThanGuess(explanation: Explanation): boolean {
  return explanation.kind !== 'window' || explanation.rttGiven;
}

function offOf(explanation: Explanation): number {
  return 'offShare' in explanation ? Math.abs(explanation.offShare) : 0;
}

function neighbours(figure: MeasuredFigure, given: FigureGiven) {
  const near = pairsOf(given)
    .map((pair) => ({
      ...pair,
      goodputMbps: goodputMbps(pair.rateMbps, pair.packetBytes, given.stack),
    }))
    .toSorted((a, b) => a.goodputMbps - b.goodputMbps);
  const below = near.findLast(({ goodputMbps: mbps }) => mbps <= figure.mbps);
  const above = near.find(({ goodputMbps: mbps }) => mbps > figure.mbps);
  return { ...(below === undefined ? {} : { below }), ...(above === undefined ? {} : { above }) };
}
