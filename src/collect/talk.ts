import type { Trouble } from '../facts/trouble.ts';

/** How a talk ended: the host's shell did, somebody here stopped it, or the connection did. */
export type TalkEnd = 'ended' | 'stopped' | 'lost' | 'overlong';

/**
 * A shell on a host whose standard input stays open. What runs there sees the end of its input as
 * soon as this side is gone, whatever ended it, and is to end by that.
 */
export interface Talk {
  /** Sends text to the standard input of what runs there now. */
  readonly send: (text: string) => void;
  /** Ends the connection at once. */
  readonly stop: () => void;
  /** Resolves once nothing more will come. */
  readonly ended: Promise<TalkEnd>;
  /** First words on standard error; untrusted. */
  readonly complaint: () => string;
}

/** What a talk is begun with. */
export interface TalkStart {
  /** POSIX shell; sent first. */
  readonly script: string;
  /** Called with each line of standard output, without its end. Untrusted. */
  readonly onLine: (line: string) => void;
  /** From the start of the connection to its end, in ms. */
  readonly wholeMs: number;
  /** Stops it. */
  readonly signal: AbortSignal;
}

/** A talk that has begun, or why there is none. */
export type TalkOutcome =
  | { readonly ok: true; readonly talk: Talk }
  | { readonly ok: false; readonly trouble: Trouble };

/** Begins a talk with exactly `sh -s` on one host. Never throws for what the host does. */
export type OpenTalk = (start: TalkStart) => Promise<TalkOutcome>;

/** Bytes that one talk may print in all, and in one line. */
export const talkBytesMax = 256 * 1024;
const lineBytesMax = 4096;

/** Cuts what comes into lines; `add` gives false once it is more than a talk may print. */
export function lineCutter(onLine: (line: string) => void): (chunk: Buffer) => boolean {
  let bytes = 0;
  let rest = '';
  return (chunk) => {
    bytes += chunk.length;
    if (bytes > talkBytesMax) return false;
    const lines = (rest + chunk.toString('latin1')).split('\n');
    rest = (lines.pop() ?? '').slice(0, lineBytesMax);
    for (const line of lines) onLine(line.slice(0, lineBytesMax).replace(/\r$/, ''));
    return true;
  };
}
