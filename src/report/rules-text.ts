import { cleanText } from '../facts/clean-text.ts';
import { type dictionary, subjectKinds } from '../facts/dictionary.ts';
import type { FactEntry } from '../facts/entry.ts';
import type { Policy, Rule } from '../judge/policy.ts';
import { wrap } from './layout.ts';

type Dictionary = typeof dictionary;

/** Longest text of a rule that is listed whole: that of a condition. */
const textLengthMax = 2000;
/** Blanks before what is said of a rule or fact. */
const indent = 4;

/**
 * The rules in force, policy by policy: what each judges, when and under which condition, how
 * severe it is, which standard is behind it and which facts it reads. Plain text of at most
 * `width` columns, with a final line feed.
 */
export function rulesText(policies: readonly Policy[], width: number): string {
  return textOf(policies.flatMap((policy) => policyLines(policy, width)));
}

function policyLines(policy: Policy, width: number): readonly string[] {
  return [
    ...wrap('', `${policy.policy}: ${cleanText(policy.about)}`, width),
    ...wrap('', `from ${cleanText(policy.file)}`, width),
    '',
    ...policy.rules.flatMap((rule) => ruleLines(rule, width)),
  ];
}

function ruleLines(rule: Rule, width: number): readonly string[] {
  const facts = rule.facts.map((fact) => `${rule.judges}.${fact}`).join(', ');
  return [
    ...wrap('  ', `${rule.rule} (${rule.severity}, judges each ${rule.judges})`, width),
    ...detail('when', rule.when?.text, width),
    ...detail('holds', rule.holds.text, width),
    ...detail('says', rule.says.text, width),
    ...detail('source', rule.source, width),
    ...detail('reads', facts, width),
    '',
  ];
}

/** The dictionary of facts by subject, as `rulesText` is for rules. */
export function factsText(facts: Dictionary, width: number): string {
  return textOf(
    subjectKinds.flatMap((kind) => [
      `${kind}, ${Object.keys(facts[kind]).length} facts`,
      '',
      ...Object.entries(facts[kind]).flatMap(([name, entry]) =>
        factLines(`${kind}.${name}`, entry, width),
      ),
    ]),
  );
}

function factLines(name: string, entry: FactEntry, width: number): readonly string[] {
  const unit = entry.unit === undefined ? '' : ` in ${entry.unit}`;
  return [
    ...wrap('  ', `${name} (${entry.type}${unit}, ${entry.origin})`, width),
    ...wrap(' '.repeat(indent), entry.meaning, width),
    ...detail('absent when', entry.absentWhen, width),
    ...detail('from', entry.sources.join('; '), width),
    '',
  ];
}

function detail(label: string, text: string | undefined, width: number): readonly string[] {
  if (text === undefined || text === '') return [];
  return wrap(' '.repeat(indent), `${label}: ${cleanText(text, textLengthMax)}`, width);
}

function textOf(lines: readonly string[]): string {
  const last = lines.at(-1) === '' ? lines.slice(0, -1) : lines;
  return last.length === 0 ? '' : `${last.join('\n')}\n`;
}
