import type { RunPiece } from '../intent/types.ts';
import { clean } from './layout.ts';

/**
 * What one can touch between two hops: the labelled pieces by their labels, in order; where
 * nothing is labelled, or `whole` is asked for, every piece as declared.
 */
export function runWords(run: readonly RunPiece[], whole: boolean): string {
  const labelled = run.filter((piece) => piece.label !== undefined);
  if (whole || labelled.length === 0) return run.map((piece) => clean(piece.text)).join(', ');
  return labelled.map((piece) => clean(`${piece.kind} ${piece.label ?? ''}`)).join(', ');
}
