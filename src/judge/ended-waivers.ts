import type { SubjectKind } from '../facts/dictionary.ts';
import type { Waiver } from '../intent/types.ts';
import { findingId } from './make-finding.ts';
import type { Rule } from './policy.ts';
import type { Finding } from './types.ts';
import { isExpired } from './waivers.ts';

/** The rule behind these findings: no policy has it, since it is about the intent itself. */
export const waiverEndedRule = 'waiver-ended';

/**
 * A finding for each waiver that is past its last day. What it waived is judged again and told
 * beside it; that somebody promised to look at it by then is told here.
 */
export function endedWaivers(
  { waivers, now }: { readonly waivers: readonly Waiver[]; readonly now: string },
  rules: readonly Rule[],
): readonly Finding[] {
  const kinds = new Map(rules.map(({ rule, judges }) => [rule, judges]));
  return waivers
    .filter((waiver) => isExpired(waiver, now))
    .map((waiver) => findingOf(waiver, kinds.get(waiver.rule) ?? 'node'));
}

// The reason is the owner's own text, and stands in the intent.
function findingOf({ rule, on, until, place }: Waiver, kind: SubjectKind): Finding {
  return {
    // One subject may have waivers of several rules.
    id: findingId(`${waiverEndedRule} ${rule}`, { kind, id: on }),
    policy: 'waivers',
    rule: waiverEndedRule,
    severity: 'warning',
    verdict: 'broken',
    subject: { kind, id: on },
    cause: `waiver of ${rule} on ${on}`,
    what: `the waiver of ${rule} ended on ${until}`,
    evidence: [],
    advice: 'mend what it was for and take it out, or renew it with a date and a reason',
    declaredAt: place,
    source: 'the intent',
  };
}
