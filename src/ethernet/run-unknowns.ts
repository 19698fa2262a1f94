import { type Brake, doubtful } from './run-brake.ts';
import type { RunMeasure } from './run-measure.ts';
import { isCable, type PlacedPiece } from './run-piece.ts';

/** What is not declared of a run's cables: each takes away certainty, none the possibility. */
export function runUnknowns(pieces: readonly PlacedPiece[], measure: RunMeasure): readonly Brake[] {
  const cables = pieces.filter(isCable);
  if (cables.length === 0) return [doubtful(0, 'no cable of the run is declared')];
  const unmeasured = cables.filter(({ lengthMetres }) => lengthMetres === undefined);
  const sofar = measure.lengthMetres === 0 ? '' : `; the run has ${runLengthWords(measure)}`;
  const ungraded = cables.filter(
    ({ kind, category }) => kind !== 'direct-attach' && category === undefined,
  );
  return [
    ...unmeasured.map(({ index }) => doubtful(index, `its length is not declared${sofar}`)),
    ...ungraded.map(({ index }) => doubtful(index, 'its category is not declared')),
  ];
}

/** `25 m`, `at least 25 m`, or that nothing is known of it. */
export function runLengthWords({ lengthMetres, lengthIsWhole }: RunMeasure): string {
  if (lengthIsWhole) return `${lengthMetres} m`;
  return lengthMetres === 0 ? 'a length not known' : `at least ${lengthMetres} m`;
}

/** The longest of some pieces, the first of equals; undefined where there are none. */
export function longest(pieces: readonly PlacedPiece[]): PlacedPiece | undefined {
  return pieces.reduce<PlacedPiece | undefined>(
    (most, piece) =>
      most === undefined || (piece.lengthMetres ?? 0) > (most.lengthMetres ?? 0) ? piece : most,
    undefined,
  );
}
