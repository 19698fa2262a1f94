import type { Confirmation, FollowerOutcome, StepOutcome } from '../change/confirmation.ts';
import type { Severity } from '../judge/types.ts';
import { atLeast, exitStatuses } from './exit-status.ts';

/**
 * The status of a confirmation: 1 when a step that was to be done is not, something is otherwise
 * than foretold, a path carries less, a rule of at least `least` is newly broken or not mended, or
 * errors were counted; else 2 when something of it cannot be told; else 0. What moved beside it
 * does not count.
 */
export function confirmStatus(confirmation: Confirmation, least: Severity): number {
  const { steps, followers, paths, ways, findings, errors } = confirmation;
  const counts = ({ severity }: { readonly severity: Severity }) => atLeast(severity, least);
  const wrong =
    steps.some(isWrong) ||
    followers.some(isOtherwise) ||
    [...paths, ...ways].some(({ verdict }) => verdict === 'less') ||
    [...findings.broken, ...findings.notMended].some(counts) ||
    errors.length > 0;
  if (wrong) return exitStatuses.broken;
  const dark =
    steps.some(isDark) ||
    followers.length > 0 ||
    [...paths, ...ways].some(({ verdict }) => verdict === 'cannot-tell') ||
    findings.unknown.some(counts) ||
    confirmation.unread.some(({ readBefore, mayBeAbsent }) => readBefore && !mayBeAbsent) ||
    confirmation.uncounted.some(({ byChange }) => !byChange);
  return dark ? exitStatuses.undetermined : exitStatuses.met;
}

/** A step that was to be done by now, and is not as it was to be. */
export function isWrong({ expected, verdict }: StepOutcome): boolean {
  return expected && (verdict === 'not-done' || verdict === 'other');
}

/** A step that was to be done by now, and of which nobody can tell whether it is. */
export function isDark({ expected, verdict }: StepOutcome): boolean {
  return expected && verdict === 'cannot-tell';
}

/** What follows from other steps, was read, and is not as foretold. */
export function isOtherwise({ is }: FollowerOutcome): boolean {
  return is !== undefined;
}
