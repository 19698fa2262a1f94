import type { StepVerdicts } from '../change/step-verdicts.ts';
import type { Finding } from '../judge/types.ts';

/** Subjects that are named of one rule. */
const subjectsShownMax = 3;

/**
 * What an audit shows after one step or several, and not before: by rule, with the subjects. What a
 * later step of them takes back is left out.
 */
export function auditWords(steps: readonly StepVerdicts[]): string[] {
  const broken = new Map<string, Finding>();
  const mended = new Map<string, Finding>();
  for (const { breaks, mends } of steps) {
    for (const each of mends) if (!broken.delete(each.id)) mended.set(each.id, each);
    for (const each of breaks) if (!mended.delete(each.id)) broken.set(each.id, each);
  }
  return [...byRule('breaks', [...broken.values()]), ...byRule('mends', [...mended.values()])];
}

function byRule(word: string, findings: readonly Finding[]): string[] {
  const rules = new Map<string, string[]>();
  for (const { rule, subject } of findings)
    rules.set(rule, [...(rules.get(rule) ?? []), subject.id]);
  return [...rules].map(([rule, ids]) => {
    const more = ids.length - subjectsShownMax;
    const named = ids.slice(0, subjectsShownMax).join(', ');
    return `${word} ${rule} on ${named}${more > 0 ? ` and ${more} more` : ''}`;
  });
}
