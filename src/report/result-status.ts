import { newFindings } from './changes-text.ts';
import { exitStatus } from './exit-status.ts';
import type { AuditResult } from './types.ts';

/**
 * The status that an audit ends with: with a history only what is new or worse counts, and nothing
 * is new on the first night; what failed or could not be judged at all counts on every night.
 */
export function resultStatus({ judgement, least, moved }: AuditResult): number {
  if (moved === undefined) return exitStatus(judgement, least);
  const counted = moved.first ? [] : newFindings(moved).map(({ finding }) => finding);
  return exitStatus(judgement, least, counted);
}
