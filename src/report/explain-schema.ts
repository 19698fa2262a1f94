import { z } from 'zod';
import { causeKinds, certainties } from '../diagnose/cause.ts';

const mbps = z.number().positive();
const place = z.strictObject({
  file: z.string(),
  line: z.int().min(1),
  column: z.int().min(1),
});
const seenFact = z.strictObject({
  says: z.string(),
  source: z.string().optional().describe('Command, MIB object or standard behind it'),
});

const element = z
  .strictObject({
    id: z.string().describe('What causes point at with `element`'),
    kind: z.enum(['end', 'bus', 'module', 'run', 'piece']),
    text: z.string(),
    label: z.string().optional().describe('Label that one finds on the piece'),
    canMbps: mbps.optional().describe('Highest speed for certain; absent: not known'),
    offersMbps: mbps.optional().describe('Highest speed that the end says it offers'),
    heardMbps: mbps.optional().describe('Highest speed that its partner hears it offer'),
    runsMbps: mbps.optional().describe('Absent: not known, or no link'),
    duplex: z.enum(['full', 'half']).optional(),
    note: z.string().optional(),
    limits: z
      .enum(certainties)
      .optional()
      .describe('How surely the first cause that is a fault points at it; absent: it does not'),
  })
  .describe('One thing that a link is made of, from its first end to its second');

const cause = z.strictObject({
  kind: z.enum(causeKinds),
  certainty: z.enum(certainties),
  fault: z.boolean().describe('False: it explains what looks like a fault and is none'),
  what: z.string(),
  element: z.string().optional().describe('Identifier of an element'),
  for: z.array(seenFact),
  against: z.array(seenFact),
  remedy: z.string(),
  settledBy: z.string().describe('The measurement that would confirm or refute it'),
});

const standing = z
  .enum(['fault', 'no-fault', 'cannot-tell'])
  .describe('cannot-tell: nothing wrong was seen, and not all that decides could be read');

const part = z.strictObject({
  kind: z.enum(['link', 'path']),
  id: z.string(),
  declaredAt: place,
  standing,
  says: z.string(),
  elements: z.array(element).describe('Empty for a path: its links are parts of their own'),
  causes: z.array(cause).describe('In order of strength'),
  cannotTell: z.array(z.string()).describe('What the facts at hand cannot say, and why'),
  next: z.string().optional().describe('The one measurement to make next'),
  cautions: z.array(z.string()),
});

/** The JSON form of `explain`. */
export const explainSchema = z
  .strictObject({
    explain: z.literal(1).describe('Version of this form'),
    target: z.strictObject({
      kind: z.enum(['node', 'port', 'link', 'path', 'segment']),
      name: z.string(),
    }),
    survey: z
      .strictObject({ startedAt: z.string(), endedAt: z.string() })
      .optional()
      .describe('When the nodes were read; absent: nothing was read'),
    standing,
    parts: z.array(part).describe('Paths first, then links; what is at fault first within each'),
  })
  .describe('hopgauge explain');

/** The JSON Schema of the form, as `src/schemas/explain.schema.json` holds it. */
export function explainJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(explainSchema, { target: 'draft-7' });
  return { ...schema, title: 'hopgauge explain' };
}
