import { misfits, type RunLimit } from './run-mix.ts';
import { isCable, mediumOfPhy, type PlacedPiece } from './run-piece.ts';

/** Why a run can never carry a PHY; undefined where it might, twisted pair by negotiation. */
export function wantedMisfit(pieces: readonly PlacedPiece[], phy: string): RunLimit | undefined {
  const cable = pieces.find((piece) => isCable(piece) && misfits(phy, piece));
  if (cable !== undefined) {
    const over = cable.category ?? cable.kind;
    return { pieceIndex: cable.index, reason: `${phy} does not run over ${over}` };
  }
  const other = pieces.find(
    ({ kind, moduleType }) => kind === 'module' && isOther(moduleType ?? '', phy),
  );
  if (other === undefined) return undefined;
  return { pieceIndex: other.index, reason: `the module is ${other.moduleType}, not ${phy}` };
}

/** Modules of a type that the tables do not know are not judged. */
function isOther(declared: string, wanted: string): boolean {
  const medium = mediumOfPhy(declared);
  if (medium === undefined || declared === wanted) return false;
  return !(medium === 'copper' && mediumOfPhy(wanted) === 'copper');
}
