import { type CopperCategory, copperGrades, copperPhys } from './copper-reach.ts';
import { directAttachPhys } from './direct-attach-reach.ts';
import { type FibreType, fibreGrades, fibrePhys } from './fibre-reach.ts';

/** One piece of a run, as an intent declares it; the fields that reach depends on. */
export interface ReachPiece {
  readonly kind: 'cord' | 'wall' | 'fibre' | 'direct-attach' | 'jack' | 'panel' | 'module';
  /** Absent: not declared. */
  readonly category?: CopperCategory | FibreType;
  /** Of a cable; absent: not declared. */
  readonly lengthMetres?: number;
  readonly fieldTerminated: boolean;
  /** Of a module: its PHY, `10GBASE-SR`. */
  readonly moduleType?: string;
  /** As written, for messages. */
  readonly text: string;
}

/** A piece with its place in the run, counted from 0. */
export interface PlacedPiece extends ReachPiece {
  readonly index: number;
}

/** What the pieces of a run are made of. */
export type Medium = 'copper' | 'fibre' | 'direct-attach';

/** The pieces with their index in the run. */
export function placed(pieces: readonly ReachPiece[]): readonly PlacedPiece[] {
  return pieces.map((piece, index) => ({ ...piece, index }));
}

/** Pieces that have a length. */
export function isCable(piece: ReachPiece): boolean {
  return ['cord', 'wall', 'fibre', 'direct-attach'].includes(piece.kind);
}

/** Medium of a cable; undefined where its category is not declared, and for other pieces. */
export function mediumOfCable(piece: ReachPiece): Medium | undefined {
  if (piece.kind === 'direct-attach' || piece.kind === 'fibre') return piece.kind;
  if (copperOf(piece) !== undefined) return 'copper';
  return fibreOf(piece) === undefined ? undefined : 'fibre';
}

/** Medium that a PHY runs on; undefined where the PHY is not in the tables. */
export function mediumOfPhy(phy: string): Medium | undefined {
  if (copperPhys.some((known) => known.phy === phy)) return 'copper';
  if (Object.hasOwn(fibrePhys, phy)) return 'fibre';
  return directAttachPhys.some((known) => known.phy === phy) ? 'direct-attach' : undefined;
}

/** The category of a copper piece; undefined for others. */
export function copperOf(piece: ReachPiece): CopperCategory | undefined {
  return copperGrades.find((grade) => grade === piece.category);
}

/** The grade of a fibre piece; undefined for others. */
export function fibreOf(piece: ReachPiece): FibreType | undefined {
  return fibreGrades.find((grade) => grade === piece.category);
}
