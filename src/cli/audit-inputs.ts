import type { Intent } from '../intent/types.ts';
import type { Policy } from '../judge/policy.ts';
import type { AuditJob } from './audit-job.ts';
import type { HeldHistory } from './history-of.ts';

/** What the audit of one site begins with. */
export interface AuditInputs {
  readonly intent: Intent;
  readonly policies: readonly Policy[];
  readonly job: AuditJob;
}

/** The same, and the history that is held meanwhile. */
export interface HeldInputs extends AuditInputs {
  /** Absent: no history is kept. */
  readonly history?: HeldHistory;
}
