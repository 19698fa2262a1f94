import { cleanText } from '../../facts/clean-text.ts';
import { outOfFilesRemedy } from '../../facts/out-of-files.ts';
import type { Trouble, TroubleKind } from '../../facts/trouble.ts';

/** Longest text of a server that one message quotes, in characters. */
export const quotedLengthMax = 120;

/** A trouble from its parts. `seen` and `remedy` are one line each, in the operator's words. */
export function troubleOf(kind: TroubleKind, seen: string, remedy: string): Trouble {
  return { kind, seen, remedy };
}

/** This machine, not the host, is at its end. `to` is what was to be reached. */
export function filesSpent(to: string, code: string): Trouble {
  const seen = `${to} was not asked: this process may have no more files open (${code})`;
  return troubleOf('files-spent', seen, outOfFilesRemedy);
}

/** Text of the other side, safe to print, in quotes. */
export function quoted(text: string): string {
  return `"${cleanText(text, quotedLengthMax).replaceAll('"', "'")}"`;
}

/** `vault.office.example` or `vault.office.example port 2222`; the usual port goes without. */
export function whereText(host: string, port: number): string {
  return port === 22 ? host : `${host} port ${port}`;
}

/** Milliseconds as seconds for people. */
export function secondsText(ms: number): string {
  return `${Math.round(ms / 100) / 10} s`;
}
