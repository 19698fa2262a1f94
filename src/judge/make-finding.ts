import { hash } from 'node:crypto';
import { cleanText, sentenceLengthMax } from '../facts/clean-text.ts';
import { dictionary } from '../facts/dictionary.ts';
import type { FactEntry } from '../facts/entry.ts';
import type { Gap } from '../facts/gap.ts';
import { gapOf, type Subject, sourceOf } from '../facts/subject.ts';
import type { Waiver } from '../intent/types.ts';
import type { Rule } from './policy.ts';
import type { Evidence, Finding } from './types.ts';

/** The rule and subject that a finding is about. */
export interface FindingContext {
  readonly waiverOf: (rule: string, subject: Subject) => Waiver | undefined;
  /** Causes of gaps that are no findings: nodes that may be absent and are. */
  readonly absentNodes: ReadonlySet<string>;
}

/** Why a rule is not met on a subject. */
export interface ExplainedVerdict {
  readonly verdict: 'broken' | 'undetermined';
  /** Facts that the verdict rests on. */
  readonly facts: readonly string[];
  /** Absent facts that keep it undetermined. */
  readonly needs: readonly string[];
  /** One cause behind all `needs`; absent when they have none, or not all have. */
  readonly gapCause?: string;
  /** It waits only for nodes that may be absent. */
  readonly excused: boolean;
}

/** Gaps named in one sentence. */
const namedGapsMax = 3;
const idDigits = 10;

/** Explains a rule that applies and is not met, or of which it is not known whether it applies. */
export function explainVerdict(
  rule: Rule,
  subject: Subject,
  { absentNodes }: FindingContext,
): ExplainedVerdict {
  const unsure = rule.when !== undefined && rule.when.test(subject) === undefined;
  const { value, facts, needs } = (unsure ? rule.when : rule.holds).explain(subject);
  if (value === false) return { verdict: 'broken', facts, needs, excused: false };
  const causes = needs.map((name) => causeOfGap(subject, name));
  const [gapCause] = causes;
  if (gapCause === undefined || causes.includes(undefined)) {
    return { verdict: 'undetermined', facts, needs, excused: false };
  }
  const excused = causes.every((cause) => cause !== undefined && absentNodes.has(cause));
  return { verdict: 'undetermined', facts, needs, gapCause, excused };
}

function causeOfGap(subject: Subject, name: string): string | undefined {
  const gap = gapOf(subject, name);
  if (gap?.cause !== undefined) return gap.cause;
  return gap !== undefined && subject.kind === 'node' ? `node ${subject.id}` : undefined;
}

/** A finding in the words of its rule, with its evidence, under a waiver where one holds. */
export function makeFinding(
  rule: Rule,
  subject: Subject,
  explained: ExplainedVerdict,
  { waiverOf }: FindingContext,
): Finding {
  const { verdict } = explained;
  const waiver = waiverOf(rule.rule, subject);
  const advice = rule.advice?.render(subject).text;
  return {
    id: findingId(rule.rule, subject),
    policy: rule.policy,
    rule: rule.rule,
    severity: rule.severity,
    verdict: waiver === undefined ? verdict : 'waived',
    ...(waiver === undefined ? {} : { beneath: verdict, waiver: termsOf(waiver) }),
    subject: { kind: subject.kind, id: subject.id },
    cause: causeOf(rule, subject, explained),
    what: verdict === 'broken' ? rule.says.render(subject).text : unknownWhat(subject, explained),
    evidence: explained.facts.map((name) => evidenceOf(subject, name)),
    ...(advice === undefined ? {} : { advice }),
    ...(subject.place === undefined ? {} : { declaredAt: subject.place }),
    source: rule.source,
    ...(rule.nights === undefined ? {} : { nights: rule.nights }),
    ...(isBeyondDoubt(rule, subject, verdict) ? { beyondDoubt: true } : {}),
  };
}

/** What is not known is never beyond doubt. */
function isBeyondDoubt(
  { beyondDoubt }: Rule,
  subject: Subject,
  verdict: 'broken' | 'undetermined',
) {
  return verdict === 'broken' && beyondDoubt?.test(subject) === true;
}

/** Of rule and subject alone, so that a finding keeps its id from night to night. */
export function findingId(rule: string, { kind, id }: Pick<Subject, 'kind' | 'id'>): string {
  return hash('sha256', `${rule}\u0000${kind}\u0000${id}`).slice(0, idDigits);
}

function termsOf({ until, because, place }: Waiver): NonNullable<Finding['waiver']> {
  return { until, because, place };
}

function causeOf(rule: Rule, subject: Subject, explained: ExplainedVerdict): string {
  const own = `${rule.rule} ${subject.id}`;
  if (explained.verdict === 'broken') {
    const cause = rule.cause?.render(subject);
    // A cause of which a part is not known would join what has nothing in common.
    return cause?.complete === true ? cause.text : own;
  }
  if (explained.gapCause !== undefined) return explained.gapCause;
  if (explained.needs.length === 0) return own;
  // Rules that wait for the same facts of one subject are one to the reader.
  return `unknown ${explained.needs.map((name) => `${subject.kind}.${name}`).join(', ')} of ${subject.id}`;
}

function unknownWhat(subject: Subject, { needs }: ExplainedVerdict): string {
  if (needs.length === 0) return 'cannot be judged with these values';
  const named = needs.slice(0, namedGapsMax).map((name) => {
    const words = cleanText(gapOrDefault(subject, name).words, sentenceLengthMax);
    return `${labelOf(subject, name)} is not known${words === '' ? '' : ` (${words})`}`;
  });
  const left = needs.length - named.length;
  return `cannot be judged: ${named.join('; ')}${left > 0 ? `; and ${left} more` : ''}`;
}

/** A fact in words; a rule of one's own may ask for one that has none but its name. */
function labelOf({ kind }: Subject, name: string): string {
  return dictionary[kind][name]?.label ?? `the fact ${name}`;
}

function evidenceOf(subject: Subject, name: string): Evidence {
  const entry = dictionary[subject.kind][name];
  const value = subject.facts[name];
  const source = sourceOf(subject, name) ?? declaredSource(entry);
  return {
    fact: `${subject.kind}.${name}`,
    ...(value === undefined ? { gap: gapOrDefault(subject, name) } : { value }),
    ...(entry?.unit === undefined ? {} : { unit: entry.unit }),
    ...(source === undefined ? {} : { source }),
  };
}

// What was read names its own source; what was declared or derived has that of the dictionary.
function declaredSource(entry: FactEntry | undefined): string | undefined {
  return entry === undefined || entry.origin === 'read' ? undefined : entry.sources[0];
}

function gapOrDefault(subject: Subject, name: string): Gap {
  return gapOf(subject, name) ?? neverExpected(dictionary[subject.kind][name]);
}

const neverExpectedGaps = new WeakMap<FactEntry, Gap>();

/** The gap of a fact that nobody expected, one object for all subjects. */
function neverExpected(entry: FactEntry | undefined): Gap {
  const known = entry === undefined ? undefined : neverExpectedGaps.get(entry);
  if (known !== undefined) return known;
  const gap: Gap = { reason: 'unasked', words: entry?.absentWhen ?? 'nothing gives it' };
  if (entry !== undefined) neverExpectedGaps.set(entry, gap);
  return gap;
}
