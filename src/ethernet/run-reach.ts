import { copperRun } from './copper-run.ts';
import { directAttachRun } from './direct-attach-run.ts';
import { fibreRun } from './fibre-run.ts';
import { phyRateMbps } from './phy-rate.ts';
import { type Brake, doubtful, type MediumReach } from './run-brake.ts';
import { measureRun, type RunMeasure } from './run-measure.ts';
import { type RunLimit, runMix } from './run-mix.ts';
import {
  type Medium,
  mediumOfCable,
  mediumOfPhy,
  type PlacedPiece,
  placed,
  type ReachPiece,
} from './run-piece.ts';
import { wantedMisfit } from './wanted-misfit.ts';

/** What one would like a run to carry: a PHY by its name, or a rate in Mb/s. */
export type WantedReach = { readonly phy: string } | { readonly rateMbps: number };

/**
 * - `rated`        a rate is assured
 * - `conditional`  none is assured, some may run
 * - `out-of-reach` no PHY known here is specified for such a run
 * - `refused`      pieces that cannot work together
 * - `unknown`      what is declared does not tell
 */
export type RunStanding = 'rated' | 'conditional' | 'out-of-reach' | 'refused' | 'unknown';

/** What a run of declared pieces is good for. */
export interface RunReach extends RunMeasure {
  readonly standing: RunStanding;
  /** Absent where no piece tells. */
  readonly medium?: Medium;
  /**
   * Highest rate assured, in Mb/s; absent: none is. A direct-attach cable whose PHY is not declared
   * is taken for the rate that is wanted of it.
   */
  readonly ratedMbps?: number;
  /** A higher rate that may run, with the doubts as its conditions; absent: none. */
  readonly conditionalMbps?: number;
  /** Whether it carries what was wanted; absent: nothing was wanted, or it cannot be told. */
  readonly carriesWanted?: 'assured' | 'conditional' | 'no';
  /** What keeps it from more, or from what was wanted; absent: it carries that. */
  readonly limitedBy?: RunLimit;
  /** What one should know before believing the rates, in words, the piece named. */
  readonly doubts: readonly string[];
  /** What else is worth knowing of the pieces, without bearing on the rates. */
  readonly cautions: readonly string[];
}

/**
 * Reach of a whole run, from the first end to the second, by the published reach of its worst
 * cable over its total length, and by what its modules promise. Of nothing declared nothing is
 * claimed: undefined.
 */
export function reachOfRun(
  pieces: readonly ReachPiece[],
  wanted?: WantedReach,
): RunReach | undefined {
  if (pieces.length === 0) return undefined;
  const run = placed(pieces);
  const measure = measureRun(run);
  const ask = readWanted(wanted);
  const medium = mediumOf(run);
  const told = { ...measure, ...(medium === undefined ? {} : { medium }) };
  const refusal = runMix(run);
  if (refusal !== undefined) {
    const carries = wanted === undefined ? {} : ({ carriesWanted: 'no' } as const);
    return {
      ...told,
      standing: 'refused',
      ...carries,
      limitedBy: refusal,
      doubts: [],
      cautions: [],
    };
  }
  const misfit = ask.phy === undefined ? undefined : wantedMisfit(run, ask.phy);
  const judged = judge(run, { medium, measure, ask: misfit === undefined ? ask : {} });
  const doubts = [...judged.doubts, ...judged.brakes.flatMap((brake) => doubtOf(brake, run))];
  const all = { ...told, ...ratesOf(judged), doubts, cautions: judged.cautions ?? [] };
  if (misfit !== undefined) {
    return { ...all, carriesWanted: 'no', limitedBy: misfit };
  }
  return { ...all, ...answer(judged, ask.rateMbps) };
}

interface Ask {
  readonly phy?: string;
  readonly rateMbps?: number | undefined;
}

function readWanted(wanted: WantedReach | undefined): Ask {
  if (wanted === undefined) return {};
  return 'phy' in wanted ? { phy: wanted.phy, rateMbps: phyRateMbps(wanted.phy) } : wanted;
}

/** What is wanted tells nothing of what is there. */
function mediumOf(run: readonly PlacedPiece[]): Medium | undefined {
  const cables = run.flatMap((piece) => mediumOfCable(piece) ?? []);
  const modules = run.flatMap(({ moduleType }) => mediumOfPhy(moduleType ?? '') ?? []);
  return cables[0] ?? modules[0];
}

interface JudgeView {
  readonly medium: Medium | undefined;
  readonly measure: RunMeasure;
  readonly ask: Ask;
}

function judge(run: readonly PlacedPiece[], { medium, measure, ask }: JudgeView): MediumReach {
  switch (medium) {
    case 'copper':
      return copperRun(run, measure, ask.rateMbps);
    case 'fibre':
      return fibreRun(run, measure, ask.phy);
    case 'direct-attach':
      return directAttachRun(run, measure, ask);
    case undefined:
      return { brakes: [doubtful(0, 'no piece tells copper from fibre')], doubts: [] };
  }
}

const assuredOf = ({ brakes }: MediumReach) => Math.min(...brakes.map((b) => b.assuredMbps));
const possibleOf = ({ brakes }: MediumReach) => Math.min(...brakes.map((b) => b.possibleMbps));

function ratesOf(
  judged: MediumReach,
): Pick<RunReach, 'standing' | 'ratedMbps' | 'conditionalMbps'> {
  const possible = possibleOf(judged);
  const assured = Math.min(assuredOf(judged), possible);
  if (possible === 0) return { standing: 'out-of-reach' };
  if (!Number.isFinite(possible)) return { standing: 'unknown' };
  const more = possible > assured ? { conditionalMbps: possible } : {};
  if (assured === 0) return { standing: 'conditional', ...more };
  return { standing: 'rated', ratedMbps: assured, ...more };
}

function answer(
  judged: MediumReach,
  wantedMbps: number | undefined,
): Pick<RunReach, 'carriesWanted' | 'limitedBy'> {
  const limit = limitOf(judged, wantedMbps);
  const limited = limit === undefined ? {} : { limitedBy: limit };
  if (wantedMbps === undefined) return limited;
  if (possibleOf(judged) < wantedMbps) return { carriesWanted: 'no', ...limited };
  if (!Number.isFinite(possibleOf(judged))) return limited;
  const otherRate = judged.fixedMbps !== undefined && judged.fixedMbps !== wantedMbps;
  if (assuredOf(judged) < wantedMbps || otherRate)
    return { carriesWanted: 'conditional', ...limited };
  return { carriesWanted: 'assured' };
}

/** The brake that forbids what is wanted, else that which leaves it in doubt, else the tightest. */
function limitOf(judged: MediumReach, wantedMbps: number | undefined): RunLimit | undefined {
  const { brakes, fixedMbps } = judged;
  const tightest = brakes.find((b) => b.possibleMbps === 0) ?? lowest(brakes);
  const found =
    wantedMbps === undefined
      ? tightest
      : (brakes.find((b) => b.possibleMbps < wantedMbps) ??
        brakes.find((b) => b.assuredMbps < wantedMbps) ??
        (fixedMbps === undefined || fixedMbps === wantedMbps ? undefined : tightest));
  return found === undefined ? undefined : { pieceIndex: found.pieceIndex, reason: found.reason };
}

function lowest(brakes: readonly Brake[]): Brake | undefined {
  return brakes.find((b) => brakes.every((other) => b.assuredMbps <= other.assuredMbps));
}

/** A brake that leaves everything possible is a doubt; the others are limits. */
function doubtOf(brake: Brake, run: readonly PlacedPiece[]): readonly string[] {
  if (Number.isFinite(brake.possibleMbps)) return [];
  const text = run[brake.pieceIndex]?.text;
  return [text === undefined ? brake.reason : `${text}: ${brake.reason}`];
}
