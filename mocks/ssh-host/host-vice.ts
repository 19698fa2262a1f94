/** One thing that is wrong with a simulated host. Each host has at most one. */
export type HostVice =
  /** Takes the connection and never says a word. */
  | { readonly is: 'silent' }
  /** Says this in clear text and closes. */
  | { readonly is: 'not-ssh'; readonly says: string }
  /** Closes the first connections before any greeting, as a server at its limit does. */
  | { readonly is: 'busy'; readonly times: number; readonly says?: string }
  /** Greets only after this time. */
  | { readonly is: 'slow-greeting'; readonly delayMs: number }
  /** Lets in, takes the script, and then does nothing. */
  | { readonly is: 'hang' }
  /** Prints this for ever on one of the streams; by default one line without an end. */
  | { readonly is: 'flood'; readonly on: 'stdout' | 'stderr'; readonly says?: string }
  /** Drops the connection after this many bytes of the reply. */
  | { readonly is: 'close-mid-reply'; readonly afterBytes: number }
  /** Prints this before the reply, as a start file that echoes does. */
  | { readonly is: 'noisy-start'; readonly says: string }
  /** Prints bytes that are no text instead of the reply. */
  | { readonly is: 'garbage' }
  /** Refuses to run any command. */
  | { readonly is: 'refuse-exec' }
  /** Ends the login shell at once with this status and these words on stderr. */
  | { readonly is: 'no-shell'; readonly code: number; readonly says: string }
  /** Ends the shell by a signal after the reply. */
  | { readonly is: 'killed'; readonly signal: string };
