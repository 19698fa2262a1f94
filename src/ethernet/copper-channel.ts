import { type Brake, doubtful } from './run-brake.ts';
import { connectorPlaces, type RunMeasure } from './run-measure.ts';
import { copperOf, isCable, type PlacedPiece } from './run-piece.ts';
import { longest } from './run-unknowns.ts';

/** The channel that 100 m stands for: 90 m of wall cable and 10 m of cords (secondary source). */
export const wallMetresMax = 90;
/** Cords of a channel, together, in metres: 100 m are 90 m of wall cable and these. */
export const cordsMetresMax = 10;
/**
 * Loss of a stranded cord of 24 AWG per metre, that of wall cable being 1; so longer cords ask for
 * shorter walls: wall + 1.2 cords <= 102 m (TIA-568, from memory).
 */
const cordLoss = 1.2;
const channelLossMetres = wallMetresMax + cordLoss * cordsMetresMax;
/** Most connectors in a channel of 100 m (from memory), and at 25 Gb/s and more (TIA-568-C.2-1, secondary source). */
const connectorsMax = 4;
const connectorsMaxAt25G = 2;

/** Holds a run of twisted pair against the channel that the reach of its PHYs assumes. */
export function copperChannel(
  pieces: readonly PlacedPiece[],
  measure: RunMeasure,
): { readonly brakes: readonly Brake[]; readonly doubts: readonly string[] } {
  const lossy = longCords(pieces, measure);
  return {
    brakes: [...longWall(pieces, measure), ...lossy, ...manyConnectors(pieces)],
    doubts:
      lossy.length === 0 && measure.wallMetres > 0 && measure.cordsMetres > cordsMetresMax
        ? [`cords of ${measure.cordsMetres} m in all, where ${cordsMetresMax} m are allowed for`]
        : [],
  };
}

function longWall(pieces: readonly PlacedPiece[], { wallMetres }: RunMeasure): readonly Brake[] {
  const wall = longest(pieces.filter(({ kind }) => kind === 'wall'));
  if (wall === undefined || wallMetres <= wallMetresMax) return [];
  const reason = `wall cable of ${wallMetres} m; a channel has ${wallMetresMax} m at most`;
  return [doubtful(wall.index, reason)];
}

function longCords(pieces: readonly PlacedPiece[], measure: RunMeasure): readonly Brake[] {
  const cord = longest(pieces.filter(({ kind }) => kind === 'cord'));
  const { cordsMetres, wallMetres } = measure;
  const tooLossy = wallMetres + cordLoss * cordsMetres > channelLossMetres + 1e-9;
  if (cord === undefined || cordsMetres <= cordsMetresMax || !tooLossy) return [];
  const beside = wallMetres > 0 ? ` beside ${wallMetres} m of wall cable` : '';
  const reason = `cords of ${cordsMetres} m${beside} lose more than a channel of 90 and 10 m`;
  return [doubtful(cord.index, reason)];
}

function manyConnectors(pieces: readonly PlacedPiece[]): readonly Brake[] {
  const places = connectorPlaces(pieces);
  const fifth = places[connectorsMax];
  const third = places[connectorsMaxAt25G];
  const seen = `${places.length} connectors`;
  if (fifth !== undefined) {
    return [doubtful(fifth, `${seen}; a channel has ${connectorsMax} at most`)];
  }
  if (third === undefined || !pieces.some((p) => isCable(p) && copperOf(p) === 'cat8')) return [];
  const reason = `${seen}; 25 Gb/s and more allow ${connectorsMaxAt25G}`;
  return [{ ...doubtful(third, reason), assuredMbps: 10_000 }];
}
