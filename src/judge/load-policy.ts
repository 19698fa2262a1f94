import type { Place } from '../facts/subject.ts';
import { quoted, sortFaults } from '../intent/fault.ts';
import { schemaFaults } from '../intent/schema-faults.ts';
import { type Spot, spotAt } from '../intent/spot.ts';
import type { InputFault, Loaded } from '../intent/types.ts';
import { readYaml } from '../intent/yaml-tree.ts';
import type { CelEnvironment } from './cel-environment.ts';
import type { ExpressionFault } from './cel-error.ts';
import { loadCondition } from './load-expression.ts';
import { loadTemplate } from './load-template.ts';
import type { Policy, Rule } from './policy.ts';
import { type PolicyText, policySchema, type RuleText } from './policy-schema.ts';
import { sourceOffset } from './source-offset.ts';

/** Largest policy file, in UTF-16 units. */
export const policyLengthMax = 256 * 1024;

interface File {
  readonly file: string;
  readonly source: string;
  /** Offset of the start of each line. */
  readonly lines: readonly number[];
}

interface Context extends File {
  readonly cel: CelEnvironment;
  readonly kind: RuleText['judges'];
  readonly spot: Spot;
  readonly faults: InputFault[];
}

/**
 * A policy from the text of its file. Every condition and text in it is checked against the
 * dictionary of facts; all faults are told at once, each at its line and column.
 */
export function loadPolicy(text: string, file: string, cel: CelEnvironment): Loaded<Policy> {
  if (text.length > policyLengthMax) {
    const what = `longer than ${policyLengthMax} characters`;
    return {
      ok: false,
      faults: [{ place: { file, line: 1, column: 1 }, what, remedy: 'split it' }],
    };
  }
  const read = readYaml(text, file);
  if (!read.ok) return read;
  const { tree } = read;
  const { faults: schemaFound } = schemaFaults(policySchema, tree, 'a policy file');
  const checked = policySchema.safeParse(tree.value);
  if (!checked.success) return { ok: false, faults: sortFaults([...tree.faults, ...schemaFound]) };
  const loaded = loadRules(
    checked.data,
    tree.spot,
    { file, source: text, lines: lineStarts(text) },
    cel,
  );
  const faults = [...tree.faults, ...schemaFound, ...loaded.faults];
  if (faults.length > 0) return { ok: false, faults: sortFaults(faults) };
  const { policy, about } = checked.data;
  return { ok: true, value: { policy, about, file, rules: loaded.rules } };
}

function lineStarts(text: string): readonly number[] {
  return [0, ...[...text.matchAll(/\n/g)].map(({ index }) => index + 1)];
}

function loadRules(
  { policy, rules }: PolicyText,
  root: Spot,
  file: File,
  cel: CelEnvironment,
): { readonly rules: readonly Rule[]; readonly faults: readonly InputFault[] } {
  const faults: InputFault[] = [];
  const loaded = rules.flatMap((rule, index) => {
    const spot = spotAt(root, ['rules', index]);
    return loadRule(rule, policy, { ...file, cel, kind: rule.judges, spot, faults }) ?? [];
  });
  return { rules: loaded, faults };
}

function loadRule(text: RuleText, policy: string, context: Context): Rule | undefined {
  const when = condition('when', text.when, context);
  const holds = condition('holds', text.holds, context);
  const beyondDoubt = condition('beyondDoubt', text.beyondDoubt, context);
  const says = template('says', text.says, context);
  const advice = template('advice', text.advice, context);
  const cause = template('cause', text.cause, context);
  if (holds === undefined || says === undefined) return undefined;
  return {
    rule: text.rule,
    policy,
    judges: text.judges,
    ...(when === undefined ? {} : { when }),
    holds,
    severity: text.severity,
    ...(text.nights === undefined ? {} : { nights: text.nights }),
    ...(beyondDoubt === undefined ? {} : { beyondDoubt }),
    says,
    ...(advice === undefined ? {} : { advice }),
    ...(cause === undefined ? {} : { cause }),
    source: text.source,
    place: spotAt(context.spot, ['rule']).value,
    facts: distinctFacts([when, holds, beyondDoubt, says, advice, cause]),
  };
}

function distinctFacts(
  parts: readonly ({ readonly facts: readonly string[] } | undefined)[],
): readonly string[] {
  return [...new Set(parts.flatMap((part) => part?.facts ?? []))];
}

function condition(
  key: 'when' | 'holds' | 'beyondDoubt',
  text: string | undefined,
  context: Context,
) {
  if (text === undefined) return undefined;
  const loaded = loadCondition(text, context.kind, context.cel);
  if (loaded.ok) return loaded.value;
  context.faults.push(...loaded.faults.map((fault) => placed(fault, key, text, context)));
  return undefined;
}

function template(key: 'says' | 'advice' | 'cause', text: string | undefined, context: Context) {
  if (text === undefined) return undefined;
  const loaded = loadTemplate(text, context.kind, context.cel);
  if (loaded.ok) return loaded.value;
  context.faults.push(...loaded.faults.map((fault) => placed(fault, key, text, context)));
  return undefined;
}

function placed(fault: ExpressionFault, key: string, value: string, context: Context): InputFault {
  const { value: place } = spotAt(context.spot, [key]);
  const seen = value.slice(fault.start, fault.end);
  return {
    place: placeOf(fault.start, value, place, context),
    what: `${key}: ${fault.what}`,
    ...(seen === '' ? {} : { seen: quoted(seen) }),
    remedy: fault.remedy,
  };
}

function placeOf(offset: number, value: string, { line, column }: Place, context: File): Place {
  const { file, lines, source } = context;
  const start = (lines[line - 1] ?? 0) + column - 1;
  const at = sourceOffset({ source, start, value }, offset);
  const found = lines.findLastIndex((first) => first <= at);
  return { file, line: found + 1, column: at - (lines[found] ?? 0) + 1 };
}
