import { distance } from 'fastest-levenshtein';

/** Longest word that is compared: the cost of a comparison grows with the square. */
const wordLengthMax = 128;

/**
 * The valid word that `word` was probably meant to be; undefined when none is near. Case does not
 * count. Of equally near ones the first wins.
 */
export function nearestWord(word: string, valid: Iterable<string>): string | undefined {
  if (word.length > wordLengthMax) return undefined;
  let best: string | undefined;
  let least = nearEnough(word.length) + 1;
  for (const candidate of valid) {
    if (Math.abs(candidate.length - word.length) >= least) continue;
    const steps = distance(word.toLowerCase(), candidate.toLowerCase());
    if (steps < least) [best, least] = [candidate, steps];
  }
  return best;
}

// A third of the word may differ, and a swap of neighbours counts as two steps; but not all of it.
function nearEnough(length: number): number {
  return Math.min(length - 1, Math.ceil(length / 3));
}

/** What to write instead of `word`: the nearest valid word, or the valid ones, or `otherwise`. */
export function wordRemedy(word: string, valid: readonly string[], otherwise?: string): string {
  const near = nearestWord(word, valid);
  if (near !== undefined) return `write '${near}'`;
  if (otherwise !== undefined || valid.length === 0) return otherwise ?? 'remove it';
  if (valid.length === 1) return `write '${valid[0]}'`;
  const shown = valid.slice(0, 12).join(', ');
  return `write one of ${shown}${valid.length > 12 ? ', ...' : ''}`;
}
