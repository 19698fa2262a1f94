import { dirname, isAbsolute, join, normalize } from 'node:path';

/** `written` in file `from`, relative to its folder unless it is absolute. */
export function pathFrom(from: string, written: string): string {
  return isAbsolute(written) ? normalize(written) : join(dirname(from), written);
}

/** `file` made absolute by `workingFolder`; as it is when there is none. */
export function absolutePath(file: string, workingFolder: string | undefined): string {
  if (isAbsolute(file) || workingFolder === undefined) return normalize(file);
  return join(workingFolder, file);
}
