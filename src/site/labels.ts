import type { RunPiece } from '../intent/types.ts';

/** Labels of a run in order from one of its ends; undefined when it has none. */
export function labelsFrom(run: readonly RunPiece[], side: 0 | 1): string | undefined {
  const labels = run.flatMap((piece) => (piece.label === undefined ? [] : [piece.label]));
  if (labels.length === 0) return undefined;
  return (side === 0 ? labels : labels.reverse()).join(', ');
}
