import {
  directAttachReach,
  directAttachReachAt,
  highestDirectAttachRate,
} from './direct-attach-reach.ts';
import { phyRateMbps } from './phy-rate.ts';
import { type Reach, reachStanding } from './reach.ts';
import { type Brake, doubtful, type MediumReach, rateWords } from './run-brake.ts';
import type { RunMeasure } from './run-measure.ts';
import { mediumOfPhy, type PlacedPiece } from './run-piece.ts';
import { runLengthWords, runUnknowns } from './run-unknowns.ts';

const rateUnknown = 'the rate it is made for is not declared';

/** What a direct-attach cable is asked to carry. */
export interface WantedOfCable {
  readonly phy?: string | undefined;
  readonly rateMbps?: number | undefined;
}

/** Judges a direct-attach cable: its rate is that of its PHY, or else the one wanted of it. */
export function directAttachRun(
  pieces: readonly PlacedPiece[],
  measure: RunMeasure,
  wanted: WantedOfCable,
): MediumReach {
  const cable = pieces.find(({ kind }) => kind === 'direct-attach')?.index ?? 0;
  const named = pieces.flatMap((piece) => (piece.kind === 'module' ? [piece] : []));
  const unknown = named.filter(({ moduleType = '' }) => mediumOfPhy(moduleType) === undefined);
  const declared = named.flatMap(({ moduleType = '' }) =>
    directAttachReach(moduleType) === undefined ? [] : [moduleType],
  );
  const phys = declared.length > 0 || wanted.phy === undefined ? declared : [wanted.phy];
  const judged = phys.length === 0 ? byRate(cable, measure, wanted) : byPhys(cable, measure, phys);
  return {
    ...judged,
    brakes: [
      ...judged.brakes,
      ...runUnknowns(pieces, measure),
      ...unknown.map(({ index, moduleType }) =>
        doubtful(index, `nothing is known here of ${moduleType ?? 'such a module'}`),
      ),
    ],
  };
}

function byPhys(cable: number, measure: RunMeasure, phys: readonly string[]): MediumReach {
  const rates = phys.flatMap((phy) => phyRateMbps(phy) ?? []);
  return {
    brakes: phys.map((phy) => phyBrake(cable, measure, phy)),
    doubts: [],
    ...(rates.length === 0 ? {} : { fixedMbps: Math.min(...rates) }),
  };
}

function phyBrake(cable: number, measure: RunMeasure, phy: string): Brake {
  const reach = directAttachReach(phy);
  const rateMbps = phyRateMbps(phy);
  if (reach === undefined || rateMbps === undefined) {
    return doubtful(cable, `nothing is known here of ${phy}`);
  }
  return brake(reach, { cable, measure, rateMbps, name: phy });
}

function byRate(cable: number, measure: RunMeasure, { rateMbps }: WantedOfCable): MediumReach {
  const most = highestDirectAttachRate(measure.lengthMetres) ?? 0;
  const reach = rateMbps === undefined ? undefined : directAttachReachAt(rateMbps);
  if (reach === undefined || rateMbps === undefined) {
    const open = { pieceIndex: cable, assuredMbps: 0, possibleMbps: most };
    const reason = most === 0 ? tooLong(measure) : rateUnknown;
    return { brakes: [{ ...open, reason }], doubts: most === 0 ? [] : [reason] };
  }
  const name = `direct-attach of ${rateWords(rateMbps)}`;
  return {
    brakes: [brake(reach, { cable, measure, rateMbps, name })],
    doubts: rateDoubt(reach, measure, rateMbps),
  };
}

function rateDoubt(reach: Reach, measure: RunMeasure, rateMbps: number): readonly string[] {
  const standing = reachStanding(reach, measure.lengthMetres);
  if (standing === 'beyond') return [];
  if (standing === 'conditional' || !measure.lengthIsWhole) return [rateUnknown];
  return [`its length suits ${rateWords(rateMbps)}; ${rateUnknown}`];
}

function tooLong(measure: RunMeasure): string {
  return `no direct-attach cable of ${runLengthWords(measure)} is known here`;
}

interface CableView {
  readonly cable: number;
  readonly measure: RunMeasure;
  readonly rateMbps: number;
  readonly name: string;
}

function brake(reach: Reach, { cable, measure, rateMbps, name }: CableView): Brake {
  const standing = reachStanding(reach, measure.lengthMetres);
  const { assuredMetres, conditionalMetres, condition } = reach;
  const maybe =
    conditionalMetres === undefined ? '' : `, and ${conditionalMetres} m only ${condition}`;
  return {
    pieceIndex: cable,
    reason:
      standing === 'assured'
        ? `${name} runs at its one rate`
        : `${name} reaches ${assuredMetres} m${maybe}; the run has ${runLengthWords(measure)}`,
    assuredMbps: standing === 'assured' ? rateMbps : 0,
    possibleMbps: standing === 'beyond' ? 0 : rateMbps,
  };
}
