import { isCable, type PlacedPiece } from './run-piece.ts';

/** What can be counted along a run. */
export interface RunMeasure {
  /** Sum of the declared lengths: the whole, or where `lengthIsWhole` is false a lower bound. */
  readonly lengthMetres: number;
  /** Every cable's length is declared, and there is at least one. */
  readonly lengthIsWhole: boolean;
  /** Of the cords alone; a lower bound where one of them has no length. */
  readonly cordsMetres: number;
  /** Of the wall cable alone; a lower bound likewise. */
  readonly wallMetres: number;
  /** Places where two pieces are joined, the plugs in the devices at the ends not counted. */
  readonly connectors: number;
  /** Pieces whose plugs were put on by hand. */
  readonly fieldTerminated: number;
}

/** Lengths, connectors and field-made ends of a run. */
export function measureRun(pieces: readonly PlacedPiece[]): RunMeasure {
  const cables = pieces.filter(isCable);
  return {
    lengthMetres: total(cables),
    lengthIsWhole:
      cables.length > 0 && cables.every(({ lengthMetres }) => lengthMetres !== undefined),
    cordsMetres: total(cables.filter(({ kind }) => kind === 'cord')),
    wallMetres: total(cables.filter(({ kind }) => kind === 'wall')),
    connectors: connectorPlaces(pieces).length,
    fieldTerminated: pieces.filter(({ fieldTerminated }) => fieldTerminated).length,
  };
}

function total(cables: readonly PlacedPiece[]): number {
  const metres = cables.reduce((sum, { lengthMetres }) => sum + (lengthMetres ?? 0), 0);
  // Lengths are declared to a thousandth of a centimetre; binary fractions must not add to them.
  return Math.round(metres * 1e5) / 1e5;
}

/**
 * Where pieces are joined, as places in the run in order: each jack and panel, and each cable that
 * follows another with neither between them.
 */
export function connectorPlaces(pieces: readonly PlacedPiece[]): readonly number[] {
  const passive = pieces.filter(({ kind }) => kind !== 'module');
  return passive
    .filter((piece, at) => {
      const before = passive[at - 1];
      return !isCable(piece) || (before !== undefined && isCable(before));
    })
    .map(({ index }) => index);
}
