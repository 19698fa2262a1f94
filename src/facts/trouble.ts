import type { GapReason } from './gap.ts';

/**
 * What kept a node from being read, one word for each step that can fail, with the gap reason
 * that its facts then have.
 */
export const troubleKinds = {
  'name-unknown': 'unreachable',
  'no-route': 'unreachable',
  // Who refuses is up: one that may sleep is not excused by it.
  refused: 'denied',
  'no-answer': 'unreachable',
  'not-ssh': 'unreadable',
  'server-busy': 'unreadable',
  'host-key-unknown': 'denied',
  'host-key-changed': 'denied',
  'host-key-revoked': 'denied',
  'no-common-method': 'unsupported',
  'login-refused': 'denied',
  'credential-spent': 'unasked',
  'secret-missing': 'unasked',
  'key-unusable': 'unasked',
  // The jump host is what failed; the node was asked nothing.
  'jump-failed': 'unasked',
  'shell-refused': 'denied',
  'no-marks': 'unreadable',
  truncated: 'truncated',
  overlong: 'truncated',
  'time-over': 'unreachable',
  'user-unknown': 'denied',
  'auth-wrong': 'denied',
  'level-too-low': 'denied',
  'privacy-silent': 'unreachable',
  silent: 'unreachable',
  'clock-lost': 'unreadable',
  garbled: 'unreadable',
  asleep: 'unreachable',
  'files-spent': 'unasked',
  'system-unknown': 'unsupported',
  fault: 'unreadable',
} as const satisfies Record<string, GapReason>;

/** One step that can fail. */
export type TroubleKind = keyof typeof troubleKinds;

/** Trouble with a node: data, never an exception. */
export interface Trouble {
  readonly kind: TroubleKind;
  /** What was seen, in one line, lower case, no secret. Device text in it is already cleaned. */
  readonly seen: string;
  /** What the operator can do, in one line. */
  readonly remedy: string;
  /** For host keys: the fingerprint seen, and the one expected where there is one. */
  readonly fingerprint?: string;
  readonly expected?: string;
}
