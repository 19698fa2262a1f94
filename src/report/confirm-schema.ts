import { z } from 'zod';
import { pathVerdicts, stepVerdicts } from '../change/confirmation.ts';
import { severities } from '../judge/types.ts';
import { factValueSchema, subjectSchema, timeSchema } from './schema-parts.ts';

const count = z.int().min(0);
const portOrNode = z.string().describe('`node:port`, or a node');

const step = z.strictObject({
  number: z.int().min(1),
  id: z.string().describe('Stable within the change'),
  on: portOrNode,
  node: z.string(),
  setting: z.enum(['mtu', 'speed', 'duplex', 'auto-negotiation', 'link', 'node']),
  from: factValueSchema.optional().describe('As it was before; absent: not known'),
  to: factValueSchema,
  verdict: z
    .enum(stepVerdicts)
    .describe('not-done: as it was before; other: neither that nor as asked for'),
  expected: z.boolean().describe('It was to be done by now'),
  ahead: z.boolean().describe('Done, although its turn comes later'),
  is: factValueSchema.optional().describe('What was read, where it is one value'),
  why: z.string().optional().describe('Why it cannot be told, or what was seen'),
  look: z.string().optional().describe('What a person can look at by hand'),
});

const follower = z.strictObject({
  on: portOrNode,
  node: z.string(),
  portName: z.string(),
  fact: z.string(),
  foretold: factValueSchema,
  is: factValueSchema.optional().describe('Absent: it could not be read'),
  why: z.string().optional(),
});

const passes = z.strictObject({
  id: z.string(),
  joined: z.boolean().describe('The declared links join its ends'),
  atLeastBytes: z.number().optional().describe('IP packet that passes for certain'),
  atMostBytes: z.number().optional().describe('IP packet beyond which nothing passes'),
  declaredBytes: z.number().optional(),
});

const path = z.strictObject({
  id: z.string(),
  verdict: z
    .enum(pathVerdicts)
    .describe('never-known: neither before nor now, and the change does not touch it'),
  foretold: passes,
  found: passes,
  why: z.string().optional(),
});

const finding = z.strictObject({
  id: z.string(),
  policy: z.string(),
  rule: z.string(),
  severity: z.enum(severities),
  subject: subjectSchema,
  cause: z.string().describe('Findings with an equal cause are one to the reader'),
  what: z.string(),
  foretold: z.string().optional().describe('What was foretold to be wrong there instead'),
});

const seen = { node: z.string(), seenAt: timeSchema, why: z.string().optional() };
const moved = z.union([
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

const growth = z.strictObject({
  node: z.string(),
  port: z.string(),
  fact: z.string(),
  added: z.number(),
});

/** The JSON form of `confirm`. */
export const confirmSchema = z
  .strictObject({
    confirmation: z.literal(1).describe('Version of this form'),
    site: z.string(),
    about: z.string().optional(),
    change: z.string().describe('The change file as it was named'),
    rehearsedAt: timeSchema,
    beforeAt: timeSchema.describe('End of the survey that it was rehearsed on'),
    readAt: timeSchema.describe('End of the survey that it is confirmed on'),
    upTo: count.describe('The last step that was to be done by now; 0: it has none'),
    steps: z.array(step).describe('In the order that was rehearsed'),
    followers: z
      .array(follower)
      .describe('What follows from steps on other ports and is not, or may not be, as foretold'),
    paths: z.array(path),
    ways: z
      .array(
        z.strictObject({
          id: z.string(),
          what: z.enum(['routed-whole', 'leaves']),
          verdict: z.enum(['less', 'cannot-tell']),
        }),
      )
      .describe('Directions that were foretold to be well, and are not or may not be'),
    findings: z.strictObject({
      mended: z.array(finding),
      notMended: z.array(finding).describe('Foretold to be mended, and still broken'),
      broken: z.array(finding).describe('Not before, and not foretold or otherwise'),
      brokenAsForetold: z.array(finding),
      unknown: z.array(finding).describe('Could be told before, or was foretold to be'),
    }),
    moved: z.array(moved).describe('Without what the steps explain'),
    errors: z.array(growth).describe('Errors counted since the rehearsal'),
    bounces: z.array(growth).describe('Links that went down beside a step that takes them down'),
    unread: z.array(
      z.strictObject({
        node: z.string(),
        words: z.string(),
        readBefore: z.boolean(),
        mayBeAbsent: z.boolean(),
      }),
    ),
    uncounted: z
      .array(z.strictObject({ node: z.string(), byChange: z.boolean() }))
      .describe('Counters began again, so that errors since are not known'),
  })
  .describe('hopgauge confirm');

/** The JSON Schema of the form, as `src/schemas/confirm.schema.json` holds it. */
export function confirmJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(confirmSchema, { target: 'draft-7' });
  return { ...schema, title: 'hopgauge confirm' };
}
