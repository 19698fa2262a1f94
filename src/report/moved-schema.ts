import { z } from 'zod';
import { severities } from '../judge/types.ts';
import { factValueSchema, placeSchema, subjectSchema, timeSchema } from './schema-parts.ts';

const waiver = z.strictObject({
  rule: z.string(),
  on: z.string(),
  until: z.string(),
  because: z.string(),
  place: placeSchema,
});

const seen = {
  node: z.string(),
  seenAt: timeSchema.describe('When it was last read as it was before'),
  why: z.string().optional().describe('What explains it; absent: nothing that was read'),
  told: z.boolean().describe('`audit --changes` tells it; false: only kept'),
};

const change = z.union([
  z.strictObject({
    kind: z.literal('fact'),
    ...seen,
    port: z.string().optional().describe('Absent: a fact of the node itself'),
    fact: z.string(),
    was: factValueSchema,
    is: factValueSchema,
  }),
  z.strictObject({
    kind: z.enum(['port-new', 'port-gone', 'port-renamed']),
    ...seen,
    port: z.string(),
    to: z.string().optional().describe('Its name now'),
  }),
]);

/** What moved since the audit before, in the JSON report. */
export const movedSchema = z.strictObject({
  first: z.boolean().describe('The first audit of this history: nothing to compare with'),
  lastAt: timeSchema.optional().describe('Start of the audit before'),
  lastCompleteAt: timeSchema
    .optional()
    .describe('End of the last audit, this one counted, of which every node answered'),
  findings: z
    .array(
      z.strictObject({
        id: z.string(),
        life: z
          .enum(['new', 'worsened', 'standing', 'waiting'])
          .describe('`waiting`: not told before it was there on as many nights as its rule asks'),
        since: timeSchema.describe('Start of the first audit that had it'),
      }),
    )
    .describe('The life of each finding, in their order'),
  cleared: z.array(
    z.strictObject({
      id: z.string(),
      policy: z.string(),
      rule: z.string(),
      subject: subjectSchema,
      severity: z.enum(severities),
      verdict: z.enum(['broken', 'undetermined', 'waived']),
      what: z.string(),
      cause: z.string(),
      since: timeSchema,
      lastAt: timeSchema,
      nights: z.int().min(1).describe('Audits in a row that had it'),
    }),
  ),
  changes: z.array(change),
  growths: z
    .array(
      z.strictObject({ node: z.string(), port: z.string(), fact: z.string(), added: z.number() }),
    )
    .describe('Errors that ports counted since the audit before'),
  asleep: z.array(
    z.strictObject({
      node: z.string(),
      seenAt: timeSchema.optional().describe('When it last answered; absent: never'),
    }),
  ),
  waiversIdle: z.array(waiver).describe('Not needed for 14 audits'),
  waiversEnded: z.array(waiver).describe('Past their last day since the audit before'),
});
