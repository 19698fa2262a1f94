/** A text file that was read, or why not, in plain lower-case words: `no such file`. */
export type TextRead =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly reason: string };

/**
 * Reads one text file of the operator's. It refuses what is no regular file, is longer than
 * `intentFileBytesMax` or is not UTF-8, and never throws.
 */
export type ReadTextFile = (path: string) => Promise<TextRead>;
