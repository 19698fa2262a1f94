import { z } from 'zod';
import { gapReasons } from '../facts/gap.ts';
import { severities } from '../judge/types.ts';
import { movedSchema } from './moved-schema.ts';
import { factValueSchema, placeSchema, subjectSchema, timeSchema } from './schema-parts.ts';

const count = z.int().min(0);
const facts = z
  .record(z.string(), factValueSchema)
  .describe('Facts by their names in the dictionary; an absent fact has no key');
const gap = z.strictObject({
  reason: z.enum(gapReasons).describe('Why the fact is absent'),
  words: z.string().describe("The node's own words, or ours where it said nothing"),
  cause: z.string().optional().describe('One thing behind this gap and others like it'),
});
const hop = z
  .strictObject({
    port: z.string().describe('`node:port`'),
    node: z.string(),
    position: z.enum(['from', 'to', 'switch', 'router']),
    distance: count.describe('Links away from the first end; ways beside each other share it'),
    layer: z.boolean().describe('A VLAN, bridge or bond above a port'),
    atLeastBytes: z.number().optional().describe('IP packet that passes for certain'),
    atMostBytes: z.number().optional().describe('IP packet beyond which nothing passes'),
    gap: gap.optional().describe('Why the clearance is not known'),
    onWord: z.boolean().describe('Known from the intent alone'),
    source: z
      .string()
      .optional()
      .describe('What tells the clearance of a node that nobody reads; absent: its own MTU'),
    mtuBytes: z.number().optional().describe('What the node calls the MTU of the port'),
    mtuSource: z.string().optional().describe('Command or MIB object that gave it'),
    speedMbps: z.number().optional(),
    ratedMbps: z
      .number()
      .optional()
      .describe('What its link is meant to run at: the declared speed, else what both ends can do'),
    duplex: z.string().optional(),
    narrowest: z.boolean(),
    slowest: z.boolean(),
    inUse: z.boolean().optional().describe('Absent: not known'),
    idleBecause: z
      .enum(['spanning-tree', 'lacp'])
      .optional()
      .describe('What keeps it out of use; absent: not known, or nothing does'),
    link: z.string().optional(),
    runToNext: z.array(
      z.strictObject({ kind: z.string(), text: z.string(), label: z.string().optional() }),
    ),
  })
  .describe('A port that a path may cross');

const proof = z.strictObject({
  from: z.string(),
  to: z.string(),
  provenOn: z.string().optional().describe('Day of the fit, UTC'),
  provenMtuBytes: z.number().optional().describe('Largest IP packet that came back'),
  provenLostBytes: z.number().optional().describe('Smallest IP packet that is known not to pass'),
  proofAgainst: z.string().optional().describe('What was read that cannot be so, if it is right'),
  measuredOn: z.string().optional().describe('Day of the transfer, UTC'),
  measuredGoodputMbps: z.number().optional().describe('TCP payload per second that arrived'),
});

const path = z.strictObject({
  id: z.string(),
  name: z.string(),
  from: z.string(),
  to: z.string(),
  declaredAt: placeSchema,
  facts,
  hops: z.array(hop).describe('In drawing order'),
  proofs: z
    .array(proof)
    .optional()
    .describe('What tests that still count have shown; absent: none has'),
});

const node = z.strictObject({
  name: z.string(),
  unread: z.string().optional().describe('What it is, for a node that nobody logs in to'),
  read: z.boolean().describe('At least one access gave an answer'),
  readings: z.array(
    z.strictObject({
      by: z.enum(['ssh', 'snmp', 'local']),
      at: z.string(),
      startedAt: timeSchema,
      tookMs: z.number(),
      trouble: z
        .strictObject({ kind: z.string(), seen: z.string(), remedy: z.string() })
        .optional()
        .describe('Absent: the reading succeeded'),
    }),
  ),
});

const evidence = z.strictObject({
  fact: z.string().describe('Name in the dictionary with its subject kind'),
  value: factValueSchema.optional(),
  gap: gap.optional().describe('Why there is no value; exactly one of both is there'),
  unit: z.string().optional(),
  source: z.string().optional(),
});

const finding = z.strictObject({
  id: z.string().describe('The same every night: made of rule and subject alone'),
  policy: z.string(),
  rule: z.string(),
  severity: z.enum(severities),
  verdict: z.enum(['broken', 'undetermined', 'waived']),
  beneath: z.enum(['broken', 'undetermined']).optional().describe('The verdict beneath a waiver'),
  waiver: z.strictObject({ until: z.string(), because: z.string(), place: placeSchema }).optional(),
  subject: subjectSchema,
  cause: z.string(),
  what: z.string(),
  evidence: z.array(evidence),
  advice: z.string().optional(),
  declaredAt: placeSchema.optional(),
  source: z.string().describe('Standard or common practice behind the rule'),
  nights: z.int().optional().describe('Audits in a row that must have it before it is told'),
  beyondDoubt: z.boolean().optional().describe('So bad that one audit is enough'),
});

/** The JSON report: everything that the text says, and the evidence in full. */
export const reportSchema = z
  .strictObject({
    report: z.literal(1).describe('Version of this form'),
    toolVersion: z.string(),
    site: z.string(),
    intentFiles: z.array(z.string()),
    startedAt: timeSchema,
    endedAt: timeSchema,
    survey: z
      .strictObject({ startedAt: timeSchema, endedAt: timeSchema })
      .optional()
      .describe('When the nodes were read; absent: nothing was read'),
    strict: z.boolean(),
    least: z.enum(severities).describe('The least severity that the exit status counts'),
    exitStatus: z
      .int()
      .describe(
        '0 all met, 1 broken, 2 undetermined, 78 a rule failed; with a history only what is new counts',
      ),
    tally: z.strictObject({
      judged: count,
      met: count,
      broken: count,
      undetermined: count,
      waived: count,
      notApplicable: count,
      excused: count.optional().describe('What could not be read of nodes that may be away'),
      hopsOnWord: count.describe('Hops that are known from the intent alone'),
    }),
    paths: z.array(path),
    nodes: z.array(node),
    findings: z.array(finding),
    causes: z
      .array(z.strictObject({ cause: z.string(), findings: z.array(z.string()) }))
      .describe('Identifiers of the findings that share a cause, the leading one first'),
    faults: z
      .array(
        z.strictObject({
          policy: z.string(),
          rule: z.string(),
          subject: z.string(),
          what: z.string(),
          place: placeSchema,
        }),
      )
      .describe('Rules that failed on a subject: faults of the rule, not of the network'),
    waiversExpired: z.array(placeSchema),
    moved: movedSchema.optional().describe('Since the audit before; absent: no history is kept'),
  })
  .describe('hopgauge audit report');

/** The JSON Schema of the report, as `src/schemas/report.schema.json` holds it. */
export function reportJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(reportSchema, { target: 'draft-7' });
  return { ...schema, title: 'hopgauge audit report' };
}

/** The JSON form of a report. */
export type JsonReport = z.infer<typeof reportSchema>;
