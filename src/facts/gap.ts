/**
 * Why a fact is absent. A closed list, so that no reader invents a state of its own.
 *
 * - `unsupported` the node answered that it has no such value
 * - `denied`      the node has it and would not tell this account
 * - `unreadable`  the node answered with something that no pattern accepts
 * - `truncated`   the answer ended before it was whole
 * - `unasked`     nobody asked: not needed, or the access does not offer it
 * - `down`        the value means nothing while the link is down
 * - `unreachable` the node gave no answer at all
 * - `doubtful`    a value was read, and is known to be untrue on some devices
 */
export const gapReasons = [
  'unsupported',
  'denied',
  'unreadable',
  'truncated',
  'unasked',
  'down',
  'unreachable',
  'doubtful',
] as const;

/** Why a fact is absent. */
export type GapReason = (typeof gapReasons)[number];

/** An absent fact: why it is absent, in the node's own words where it said any. */
export interface Gap {
  readonly reason: GapReason;
  /** The node's words, or ours where it said nothing. Untrusted text: clean before printing. */
  readonly words: string;
  /**
   * What one thing is behind this gap and others like it, such as `node vault` when the whole
   * node could not be read. Findings with one cause are reported as one. Absent: stands alone.
   */
  readonly cause?: string;
}

/** Gaps by the name of the fact. */
export type Gaps = Readonly<Record<string, Gap>>;
