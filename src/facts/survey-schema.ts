import { z } from 'zod';
import { factsSchema, gapSchema } from './fact-schema.ts';
import { nodeReadFacts } from './node-facts.ts';
import { portReadFacts } from './port-facts.ts';
import { fitProofSchema, transferProofSchema } from './proof-schema.ts';
import { neighbourIdKinds } from './survey.ts';
import { type TroubleKind, troubleKinds } from './trouble.ts';

const kinds = Object.keys(troubleKinds) as [TroubleKind, ...TroubleKind[]];
const bytes = z
  .int()
  .min(0)
  .max(2 ** 32);
const sources = z.record(z.string(), z.string());
const gaps = z.record(z.string(), gapSchema);
const instant = z.iso.datetime();

const trouble = z.strictObject({
  kind: z.enum(kinds),
  seen: z.string(),
  remedy: z.string(),
  fingerprint: z.string().optional(),
  expected: z.string().optional(),
});

const reading = z.strictObject({
  by: z.enum(['ssh', 'snmp', 'local']),
  at: z.string(),
  startedAt: instant,
  tookMs: z.number().min(0),
  trouble: trouble.optional(),
});

const port = z.strictObject({
  name: z.string().min(1),
  facts: factsSchema(portReadFacts),
  sources: sources.optional(),
  gaps: gaps.optional(),
});

const route = z.strictObject({
  to: z.string(),
  device: z.string().optional(),
  gateway: z.string().optional(),
  from: z.string().optional(),
  mtuBytes: bytes.optional(),
  words: z.string().optional(),
});

const routeRow = z.strictObject({
  prefix: z.string(),
  device: z.string(),
  gateway: z.string().optional(),
  mtuBytes: bytes.optional(),
  metric: z.int().min(0).optional(),
});

const session = z.strictObject({
  local: z.string(),
  remote: z.string(),
  count: z.int().min(1),
  segmentBytes: bytes,
  advertisedBytes: bytes.optional(),
  pathMtuBytes: bytes.optional(),
  timestamps: z.boolean(),
});

const mount = z.strictObject({
  server: z.string(),
  kind: z.enum(['nfs', 'smb', 'afp']),
  at: z.string(),
});

const idKind = z.enum(neighbourIdKinds);
const vlanId = z.int().min(1).max(4094);

const neighbour = z.strictObject({
  port: z.string(),
  chassis: z.string(),
  chassisKind: idKind,
  portId: z.string(),
  portIdKind: idKind,
  portText: z.string().optional(),
  systemName: z.string().optional(),
  systemText: z.string().optional(),
  capabilities: z.array(z.string()),
  addresses: z.array(z.string()),
  speedMbps: z.number().positive().optional(),
  duplex: z.enum(['full', 'half']).optional(),
  phyText: z.string().optional(),
  autoNegotiation: z.boolean().optional(),
  advertisedModes: z.array(z.string()).optional(),
  frameMaxBytes: bytes.optional(),
  untaggedVlan: vlanId.optional(),
});

const forwarding = z.strictObject({
  port: z.string(),
  vlan: vlanId.optional(),
  macs: z.array(z.string()),
});

const disagreement = z.strictObject({
  port: z.string().optional(),
  fact: z.string(),
  values: z.array(z.strictObject({ value: z.string(), source: z.string() })),
});

const node = z.strictObject({
  node: z.string().min(1),
  readings: z.array(reading),
  facts: factsSchema(nodeReadFacts),
  sources,
  gaps,
  portSources: sources,
  portGaps: gaps,
  ports: z.array(port),
  routes: z.array(route),
  routeTable: z.array(routeRow).optional(),
  sessions: z.array(session),
  mounts: z.array(mount),
  neighbours: z.array(neighbour).optional(),
  forwarding: z.array(forwarding).optional(),
  disagreements: z.array(disagreement),
});

/** Schema of a saved survey. */
export const surveySchema = z.strictObject({
  survey: z.literal(1).describe('Version of this form'),
  site: z.string(),
  startedAt: instant.describe('Start of the reading, ISO 8601 UTC'),
  endedAt: instant,
  nodes: z.array(node),
  fits: z.array(fitProofSchema).optional(),
  transfers: z.array(transferProofSchema).optional(),
});

/** JSON Schema of a saved survey, for other programs and for editors. */
export function surveyJsonSchema(): Record<string, unknown> {
  return z.toJSONSchema(surveySchema, { io: 'input', target: 'draft-7' });
}
