/** What the system answers where a process, or the machine, may have no more files open. */
const codes: ReadonlySet<unknown> = new Set(['EMFILE', 'ENFILE']);

/** What to do then; connections and pipes count as files. */
export const outOfFilesRemedy =
  'raise the limit of open files: ulimit -n 256 in the shell before, LimitNOFILE=256 in the unit';

/** The code of an error that says so; undefined: it says something else. */
export function outOfFilesCode(error: unknown): string | undefined {
  if (!(error instanceof Error) || !('code' in error)) return undefined;
  return codes.has(error.code) ? String(error.code) : undefined;
}

/** One line for a run that such an error has ended. */
export function outOfFilesWords(code: string): string {
  return `this process may have no more files open (${code}); ${outOfFilesRemedy}`;
}
