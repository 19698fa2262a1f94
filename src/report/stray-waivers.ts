import type { Place } from '../facts/subject.ts';
import { waiverEndedRule } from '../judge/ended-waivers.ts';
import type { Judgement } from '../judge/types.ts';

/** Waivers that match no rule and subject; one that is past its day is a finding of its own. */
export function strayWaivers({ waiversExpired, findings }: Judgement): readonly Place[] {
  const ended = new Set(
    findings.flatMap(({ rule, declaredAt }) =>
      rule === waiverEndedRule && declaredAt !== undefined ? [keyOf(declaredAt)] : [],
    ),
  );
  return waiversExpired.filter((place) => !ended.has(keyOf(place)));
}

function keyOf({ file, line, column }: Place): string {
  return `${file}:${line}:${column}`;
}
