import type { FactValue } from '../facts/entry.ts';
import type { Waiver } from '../intent/types.ts';
import { clearedView, saidChanges } from './moved-view.ts';
import type { JsonReport } from './report-schema.ts';
import type { AuditResult } from './types.ts';

type JsonMoved = NonNullable<JsonReport['moved']>;

/** What moved since the audit before, as the JSON report has it; undefined: no history is kept. */
export function movedJson(result: AuditResult): JsonMoved | undefined {
  const { moved } = result;
  if (moved === undefined) return undefined;
  return {
    first: moved.first,
    lastAt: moved.lastAt,
    lastCompleteAt: moved.lastCompleteAt,
    findings: moved.settlement.living.map(({ finding: { id }, life, since }) => ({
      id,
      life,
      since,
    })),
    cleared: moved.settlement.cleared.map((finding) => clearedView(finding)),
    changes: saidChanges(result).map((change) =>
      change.kind === 'fact'
        ? { ...change, was: plain(change.was), is: plain(change.is) }
        : { ...change },
    ),
    growths: moved.growths.map((growth) => ({ ...growth })),
    asleep: moved.asleep.map((node) => ({ ...node })),
    waiversIdle: moved.idleWaivers.map(waiverOf),
    waiversEnded: moved.endedWaivers.map(waiverOf),
  };
}

function waiverOf({ rule, on, until, because, place }: Waiver): JsonMoved['waiversIdle'][number] {
  return { rule, on, until, because, place };
}

/** A value as JSON has it: a list that may be written to. */
function plain(value: FactValue): Exclude<FactValue, object> | (number | string)[] {
  return typeof value === 'object' ? [...value] : value;
}
