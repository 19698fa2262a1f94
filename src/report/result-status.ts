import { newFindings } from './changes-text.ts';
import { exitStatus, exitStatuses } from './exit-status.ts';
import type { AuditResult } from './types.ts';

/**
 * The exit status of an audit. Where a history is kept only what is new or worse counts, and the
 * first audit of a history, being the baseline, has 0.
 */
export function resultStatus({ judgement, least, moved }: AuditResult): number {
  if (moved === undefined) return exitStatus(judgement, least);
  if (moved.first) return exitStatuses.met;
  const counted = newFindings(moved).map(({ finding }) => finding);
  return exitStatus(judgement, least, counted);
}
