import type { ReachPiece } from '../../src/ethernet/run-piece.ts';
import { parseRunPiece } from '../../src/intent/run-piece.ts';

/** The pieces of a run as an intent writes it, parted by commas; nothing for an empty text. */
export function runOf(text: string): readonly ReachPiece[] {
  return text === '' ? [] : text.split(', ').map(pieceOf);
}

export function pieceOf(text: string): ReachPiece {
  const read = parseRunPiece(text);
  if (!read.ok) throw new Error(`${text}: ${read.message}`);
  return read.piece;
}
