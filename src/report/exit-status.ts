import { judgedNothing } from '../judge/judge.ts';
import { type Finding, type Judgement, type Severity, severities } from '../judge/types.ts';

/** Exit statuses of a judgement and, from sysexits.h, of faults of the run itself. */
export const exitStatuses = {
  met: 0,
  broken: 1,
  undetermined: 2,
  usage: 64,
  bug: 70,
  cannotWrite: 73,
  storeLocked: 75,
  input: 78,
  interrupted: 130,
} as const;

/** Whether `severity` is at or above `least`. */
export function atLeast(severity: Severity, least: Severity): boolean {
  return severities.indexOf(severity) <= severities.indexOf(least);
}

/**
 * The status of a judgement: 1 when a rule of at least `least` is broken; else 78 when a rule
 * failed on its subject; else 2 when something of at least `least` could not be judged, or when
 * nothing was judged at all; else 0. Never a count. `findings` are those that count: all, or with a
 * history those that are new.
 */
export function exitStatus(
  judgement: Judgement,
  least: Severity,
  findings: readonly Finding[] = judgement.findings,
): number {
  const counted = findings.filter((finding) => atLeast(finding.severity, least));
  if (counted.some((finding) => finding.verdict === 'broken')) return exitStatuses.broken;
  if (judgement.faults.length > 0) return exitStatuses.input;
  if (judgedNothing(judgement)) return exitStatuses.undetermined;
  if (counted.some((finding) => finding.verdict === 'undetermined')) {
    return exitStatuses.undetermined;
  }
  return exitStatuses.met;
}
