import type { Place, Subject } from '../facts/subject.ts';
import type { Waiver } from '../intent/types.ts';
import type { Rule } from './policy.ts';

/** The waiver that holds for a rule on a subject on the day of `now`. */
export function waiverFinder(
  waivers: readonly Waiver[],
  now: string,
): (rule: string, subject: Subject) => Waiver | undefined {
  const byRule = new Map<string, Waiver[]>();
  for (const waiver of waivers) {
    if (isExpired(waiver, now)) continue;
    byRule.set(waiver.rule, [...(byRule.get(waiver.rule) ?? []), waiver]);
  }
  return (rule, subject) => byRule.get(rule)?.find((waiver) => namesSubject(waiver.on, subject));
}

/** Places of waivers that are past their day, or that no rule and subject answer to. */
export function expiredWaivers(
  { waivers, now }: { readonly waivers: readonly Waiver[]; readonly now: string },
  rules: readonly Rule[],
  subjects: readonly Subject[],
): readonly Place[] {
  const judgedBy = new Map(rules.map((rule) => [rule.rule, rule.judges]));
  return waivers
    .filter((waiver) => isExpired(waiver, now) || !matchesAny(waiver, judgedBy, subjects))
    .map(({ place }) => place);
}

/** Whether the last day of a waiver is before the day of `now`. */
export function isExpired({ until }: Waiver, now: string): boolean {
  return until < now.slice(0, 'YYYY-MM-DD'.length);
}

function matchesAny(
  { rule, on }: Waiver,
  judgedBy: ReadonlyMap<string, Subject['kind']>,
  subjects: readonly Subject[],
): boolean {
  const kind = judgedBy.get(rule);
  return subjects.some((subject) => subject.kind === kind && namesSubject(on, subject));
}

/**
 * Whether a waiver's `on` names the subject: its id; for a link, either of its ends; for one of
 * several pairs of a path, or a direction of it, the path's name.
 */
function namesSubject(on: string, { kind, id, facts }: Subject): boolean {
  if (on === id) return true;
  if (kind === 'path') return facts['name'] === on;
  if (kind === 'direction') return facts['path'] === on || id.startsWith(`${on}: `);
  const ends = kind === 'link' ? facts['ends'] : undefined;
  return Array.isArray(ends) && ends.some((end) => end === on);
}

/** Which waivers the rule of was met on, and which were needed. */
export interface WaiversSeen {
  readonly met: (waiver: Waiver | undefined) => void;
  readonly notMet: (waiver: Waiver | undefined) => void;
  /** Places of those that no subject needed, in the order in which they were met. */
  readonly onlyMet: () => readonly Place[];
}

/** Notes what becomes of the waivers in force during one judging. */
export function waiversSeen(): WaiversSeen {
  const met = new Set<Waiver>();
  const needed = new Set<Waiver>();
  const into = (set: Set<Waiver>) => (waiver: Waiver | undefined) => {
    if (waiver !== undefined) set.add(waiver);
  };
  return {
    met: into(met),
    notMet: into(needed),
    onlyMet: () => [...met].filter((waiver) => !needed.has(waiver)).map(({ place }) => place),
  };
}
