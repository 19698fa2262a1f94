import type { Finding } from '../judge/types.ts';
import type { Site } from '../site/types.ts';
import type { AuditResult } from './types.ts';

/** Hops of all paths that are known from the intent alone, each counted once. */
export function countOnWord(site: Site): number {
  const hops = site.paths.flatMap((path) => path.hops);
  return new Set(hops.filter(({ clearance }) => clearance.onWord).map(({ port }) => port.id)).size;
}

/** How many rule and subject pairs came to what; `judged` counts all that came to anything. */
export interface AuditCounts {
  readonly judged: number;
  readonly met: number;
  /** Without what is only worth knowing. */
  readonly broken: number;
  readonly undetermined: number;
  readonly waived: number;
  /** Broken rules that are notices: worth knowing, no fault. */
  readonly noted: number;
  /** Hops known from the intent alone. */
  readonly onWord: number;
}

/** The counts of an audit as every report for people says them. */
export function auditCounts({ judgement, site }: AuditResult): AuditCounts {
  const { met, broken, undetermined, waived } = judgement.tally;
  const noted = judgement.findings.filter(isNoted).length;
  return {
    judged: met + broken + undetermined + waived,
    met,
    broken: broken - noted,
    undetermined,
    waived,
    noted,
    onWord: countOnWord(site),
  };
}

/** A notice is no fault: it is told apart from what is broken. */
export function isNoted({ verdict, severity }: Pick<Finding, 'verdict' | 'severity'>): boolean {
  return verdict === 'broken' && severity === 'notice';
}
