import type { SeenChange, SeenGrowth, SitePast } from '../../../../src/drift/site-past.ts';
import type { KeptAudit } from '../../../../src/drift/timeline.ts';
import type { FactValue } from '../../../../src/facts/entry.ts';

/** The start of the audit on a day of November 2026, and some seconds. */
export function day(number: number, seconds = 0): string {
  return new Date(Date.UTC(2026, 10, number, 2, 0, seconds)).toISOString();
}

export function auditAt(number: number, over: Partial<KeptAudit> = {}): KeptAudit {
  return {
    startedAt: day(number),
    endedAt: day(number, 9),
    complete: true,
    met: 9,
    broken: 1,
    undetermined: 0,
    waived: 0,
    nodesRead: 3,
    nodesAsked: 3,
    told: 0,
    ...over,
  };
}

const where = { node: 'quay-sw', port: 'xg3', firstSeen: day(1) };

/** The MTU of quay-sw:xg3 on the night of `number`, last read on that of `seen`. */
export function changedAt(
  number: number,
  was: FactValue,
  is: FactValue,
  seen = number - 1,
): SeenChange {
  const at = day(number);
  return { kind: 'changed', at, ...where, fact: 'mtuBytes', was, is, seenAt: day(seen, 9) };
}

export function grownAt(number: number, added: number): SeenGrowth {
  return { kind: 'grown', at: day(number), ...where, fact: 'rxCrcErrors', added };
}

/** Audits on these days, and nothing else but what is given. */
export function pastOf(days: readonly number[], over: Partial<SitePast> = {}): SitePast {
  return {
    site: 'Saltmarsh survey office',
    nights: days.map((number) => auditAt(number)),
    changes: [],
    growths: [],
    silences: [],
    lives: [],
    cut: {},
    ...over,
  };
}
