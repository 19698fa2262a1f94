import { z } from 'zod';
import { subjectKinds } from '../facts/dictionary.ts';
import { patternText, plainText, together } from '../intent/schema-parts.ts';
import { expressionLengthMax } from './cel-environment.ts';
import { severities } from './types.ts';

/** Rules of one policy file. */
export const rulesMax = 500;

const name = (about: string) =>
  patternText(
    about,
    /^[a-z][a-z0-9-]{0,63}$/,
    'must be a name; write small letters, digits and hyphens, at most 64, a letter first',
  );

const condition = (about: string) => z.string().min(1).max(expressionLengthMax).describe(about);

const template = (about: string) =>
  z
    .string()
    .min(1)
    .max(expressionLengthMax)
    .describe(`${about}; {path.mtuAtMostBytes} prints a value of the subject`);

const ruleSchema = z
  .strictObject({
    rule: name('Name of the rule, unique over all policies in force'),
    judges: z.enum(subjectKinds).describe('What the rule is asked about, one by one'),
    when: condition(
      'CEL condition over facts of the subject: where it is false the rule does not apply',
    ).exactOptional(),
    holds: condition(
      'CEL condition over facts of the subject: true is met, false is broken, and a fact that is not known makes it undetermined',
    ),
    severity: z.enum(severities).describe('How much a broken rule matters'),
    nights: z
      .int()
      .min(2)
      .max(30)
      .describe(
        'Audits in a row that must have a finding of this rule before `audit --changes` tells it; for what comes and goes by itself',
      )
      .exactOptional(),
    beyondDoubt: condition(
      'CEL condition: true is bad enough for one audit to be told; only with nights',
    ).exactOptional(),
    says: template('What is wrong, in one line'),
    advice: template('What to do').exactOptional(),
    cause: template(
      'What is behind it: findings with an equal text are one to the reader. Default: the rule and the subject',
    ).exactOptional(),
    source: plainText('Standard with its clause, or `common practice`', 300),
  })
  .check(({ value, issues }) => {
    if (value.beyondDoubt !== undefined && value.nights === undefined) {
      together(
        issues,
        ['beyondDoubt'],
        'has no use without nights; add nights, or remove beyondDoubt',
      );
    }
  })
  .describe('One rule');

/** A policy file. */
export const policySchema = z.strictObject({
  policy: name('Name of the policy, as intent files give it'),
  about: plainText('What its rules see to, in a sentence', 400),
  rules: z.array(ruleSchema).min(1).max(rulesMax),
});

/** A policy file as it is written. */
export type PolicyText = z.output<typeof policySchema>;
/** A rule as it is written. */
export type RuleText = PolicyText['rules'][number];

/** JSON Schema (draft 7) of a policy file, for editors. */
export function policyJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(policySchema, { io: 'input', target: 'draft-7' });
  return { ...schema, title: 'hopgauge policy file' };
}
