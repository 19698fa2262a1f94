import { copperChannel } from './copper-channel.ts';
import { copperModules } from './copper-modules.ts';
import {
  type CopperCategory,
  copperGrades,
  copperPhys,
  highestCopperRate,
} from './copper-reach.ts';
import { type Brake, type MediumReach, rateWords } from './run-brake.ts';
import type { RunMeasure } from './run-measure.ts';
import { copperOf, isCable, type PlacedPiece } from './run-piece.ts';
import { longest, runLengthWords, runUnknowns } from './run-unknowns.ts';

/** Judges a run of twisted pair; `wantedMbps` only chooses which rate its reasons speak of. */
export function copperRun(
  pieces: readonly PlacedPiece[],
  measure: RunMeasure,
  wantedMbps: number | undefined,
): MediumReach {
  const worst = worstCategory(pieces);
  const cable = cableBrake(worst, { pieces, measure, wantedMbps });
  const channel = copperChannel(pieces, measure);
  const passive = [cable, ...runUnknowns(pieces, measure), ...channel.brakes];
  const modules = copperModules(pieces, measure, Math.min(...passive.map((b) => b.assuredMbps)));
  return {
    brakes: [...passive, ...modules.brakes],
    doubts: [
      ...conditions(worst, measure.lengthMetres),
      ...channel.doubts,
      ...byHand(pieces),
      ...modules.doubts,
    ],
    cautions: modules.cautions,
  };
}

function worstCategory(pieces: readonly PlacedPiece[]): CopperCategory | undefined {
  const found = pieces.map(copperOf);
  return copperGrades.find((grade) => found.includes(grade));
}

interface CableView {
  readonly pieces: readonly PlacedPiece[];
  readonly measure: RunMeasure;
  readonly wantedMbps: number | undefined;
}

/** Where no category is declared, what the best of them would do is still possible. */
function cableBrake(worst: CopperCategory | undefined, view: CableView): Brake {
  const { pieces, measure, wantedMbps } = view;
  const found = highestCopperRate(worst ?? 'cat8', measure.lengthMetres);
  const assuredMbps = worst === undefined ? 0 : (found.assuredMbps ?? 0);
  const possibleMbps = Math.max(found.assuredMbps ?? 0, found.conditionalMbps ?? 0);
  const ofGrade = pieces.filter((piece) => isCable(piece) && copperOf(piece) === worst);
  const wanting = wantedMbps !== undefined && wantedMbps > assuredMbps;
  const targetMbps = wanting ? wantedMbps : assuredMbps + 1;
  return {
    pieceIndex: longest(ofGrade)?.index ?? 0,
    reason:
      worst === undefined
        ? whyNotAny(measure, targetMbps, possibleMbps)
        : whyNot(worst, measure, targetMbps),
    assuredMbps,
    possibleMbps,
  };
}

function whyNotAny(measure: RunMeasure, targetMbps: number, possibleMbps: number): string {
  const run = `a run of ${runLengthWords(measure)}`;
  if (possibleMbps === 0) return `no twisted pair is specified for ${run}`;
  if (targetMbps <= possibleMbps) return 'the category of no cable is declared';
  return `no twisted pair carries ${rateWords(targetMbps)} over ${run}`;
}

function whyNot(worst: CopperCategory, measure: RunMeasure, mbps: number): string {
  const next = copperPhys.findLast(({ rateMbps }) => rateMbps >= mbps);
  if (next === undefined) return 'no twisted pair carries more than 40 Gb/s';
  const reach = next.reach[worst];
  if (reach === undefined) return `${next.phy} is not specified for ${worst}`;
  const run = `a run of ${runLengthWords(measure)} with ${worst} in it`;
  const { assuredMetres, conditionalMetres, condition } = reach;
  const sure = assuredMetres === undefined ? [] : [`is assured to ${assuredMetres} m`];
  const maybe =
    conditionalMetres === undefined ? [] : [`runs to ${conditionalMetres} m only ${condition}`];
  return `${run}: ${next.phy} ${[...sure, ...maybe].join(', and ')}`;
}

function conditions(worst: CopperCategory | undefined, lengthMetres: number): readonly string[] {
  if (worst === undefined) return [];
  const { conditionalMbps, condition } = highestCopperRate(worst, lengthMetres);
  if (conditionalMbps === undefined || condition === undefined) return [];
  return [`${rateWords(conditionalMbps)} over ${worst} only ${condition}`];
}

function byHand(pieces: readonly PlacedPiece[]): readonly string[] {
  return pieces
    .filter(({ fieldTerminated }) => fieldTerminated)
    .map(({ text }) => `${text}: its plugs were put on by hand; try another cord first`);
}
