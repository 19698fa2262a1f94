import { aboveCagePower, cagePowerWatts, moduleClass } from './module-class.ts';
import { phyRateMbps } from './phy-rate.ts';
import { type Brake, doubtful, type MediumReach, rateWords } from './run-brake.ts';
import type { RunMeasure } from './run-measure.ts';
import { mediumOfPhy, type PlacedPiece } from './run-piece.ts';
import { runLengthWords } from './run-unknowns.ts';

/**
 * What twisted-pair modules hold a run to. A module promises its own rate alone: many also link at
 * lower ones, and not all (from memory). `passiveMbps` is the rate that the rest of the run leaves
 * assured, 0 where it leaves none.
 */
export function copperModules(
  pieces: readonly PlacedPiece[],
  measure: RunMeasure,
  passiveMbps: number,
): MediumReach & { readonly cautions: readonly string[] } {
  const modules = pieces.filter(({ kind }) => kind === 'module');
  const rates = modules.flatMap((module) => phyRateMbps(module.moduleType ?? '') ?? []);
  const sharedMbps = Math.min(passiveMbps, ...rates);
  const judged = modules.map((module) => ({
    text: module.text,
    brake: moduleBrake(module, measure, sharedMbps),
  }));
  return {
    brakes: judged.map(({ brake }) => brake),
    doubts: judged
      .filter(({ brake }) => brake.assuredMbps === 0 && Number.isFinite(brake.possibleMbps))
      .map(({ text, brake }) => `${text}: ${brake.reason}`),
    cautions: modules.flatMap(powerCaution),
  };
}

function moduleBrake(module: PlacedPiece, measure: RunMeasure, sharedMbps: number): Brake {
  const phy = module.moduleType ?? '';
  const rateMbps = phyRateMbps(phy);
  if (mediumOfPhy(phy) !== 'copper' || rateMbps === undefined) {
    return doubtful(module.index, `nothing is known here of ${phy || 'a module without a type'}`);
  }
  const doubt = moduleDoubt(phy, measure) ?? lowerRate(phy, rateMbps, sharedMbps);
  return {
    pieceIndex: module.index,
    reason: doubt ?? `${phy} runs at ${rateWords(rateMbps)} at most`,
    assuredMbps: doubt === undefined ? rateMbps : 0,
    possibleMbps: rateMbps,
  };
}

function moduleDoubt(phy: string, measure: RunMeasure): string | undefined {
  const known = moduleClass(phy);
  if (known === undefined) return `how far modules of ${phy} reach is not known here`;
  if (measure.lengthMetres <= known.reachMetres) return undefined;
  const run = runLengthWords(measure);
  return `modules of ${phy} are usually sold for ${known.reachMetres} m; the run has ${run}`;
}

function lowerRate(phy: string, rateMbps: number, sharedMbps: number): string | undefined {
  if (sharedMbps === 0 || sharedMbps >= rateMbps) return undefined;
  return `the run is good for ${rateWords(sharedMbps)}, and not every module of ${phy} links below ${rateWords(rateMbps)}`;
}

function powerCaution({ moduleType = '', text }: PlacedPiece): readonly string[] {
  const known = moduleClass(moduleType);
  if (known?.powerWatts === undefined || aboveCagePower(known) !== true) return [];
  const [least, most] = known.powerWatts;
  return [
    `${text}: draws ${least} to ${most} W where a cage grants ${cagePowerWatts.III} W at most; it runs hot, and the cages beside it may have to stay empty`,
  ];
}
