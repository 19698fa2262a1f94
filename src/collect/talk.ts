import type { Trouble } from '../facts/trouble.ts';

/** How a talk ended: the host's shell did, the connection did, or the signal said so. */
export type TalkEnd = 'ended' | 'lost' | 'stopped';

/**
 * A shell on a host whose standard input stays open. What runs there sees the end of its input as
 * soon as this side is gone, whatever ended it, and is to end by that.
 */
export interface Talk {
  /** Sends text to the standard input of what runs there now. */
  readonly send: (text: string) => void;
  /** Resolves once nothing more will come. */
  readonly ended: Promise<TalkEnd>;
  /** First words on standard error; untrusted. */
  readonly complaint: () => string;
}

/** What a talk is begun with. */
export interface TalkStart {
  /** POSIX shell; sent first. */
  readonly script: string;
  /** Called with standard output as it comes. Untrusted, and without end. */
  readonly onOutput: (chunk: Uint8Array) => void;
  /** Ends the talk and its connection at once. */
  readonly signal: AbortSignal;
}

/** A talk that has begun, or why there is none. */
export type TalkOutcome =
  | { readonly ok: true; readonly talk: Talk }
  | { readonly ok: false; readonly trouble: Trouble };

/** Begins a talk with exactly `sh -s` on one host. Never throws for what the host does. */
export type OpenTalk = (start: TalkStart) => Promise<TalkOutcome>;
