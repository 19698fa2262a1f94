/**
 * A word for `sh`, quoted where it has to be. POSIX, Shell Command Language, 2.2.2: between single
 * quotes all but the quote itself stands for itself.
 */
export function shellWord(word: string): string {
  if (/^[A-Za-z0-9_./:=@%+-]+$/.test(word)) return word;
  return `'${word.replaceAll("'", "'\\''")}'`;
}
