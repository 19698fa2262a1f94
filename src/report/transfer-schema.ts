import { z } from 'zod';
import { transferProofSchema } from '../facts/proof-schema.ts';

const mbps = z.number().positive();
const count = z.int().min(0);
const share = z.number().min(0);

const cpu = z
  .strictObject({
    own: share.optional().describe('Of one core, by the program itself; 1 is a whole core'),
    busiest: share.optional().describe('Busiest core, with all that ran there'),
    all: share.optional().describe('All cores together'),
    cores: z.int().min(1).optional(),
  })
  .describe('Work of processors while the load lasted');

const end = z.strictObject({
  node: z.string(),
  system: z.string().describe('As uname -s says'),
  tool: z.enum(['perl', 'python3', 'nc', 'nothing']),
  cpu: cpu.optional().describe('Absent: absent has the reason'),
});

const measured = z.strictObject({
  whole: z
    .boolean()
    .describe('False: it was ended before its end; the figures are of what had passed'),
  endedBy: z.enum(['time', 'cap']).optional().describe('What ended the sending'),
  listener: z.string().describe('Node that listened'),
  missed: z.array(z.string()).describe('Attempts in which the two did not meet'),
  streams: z.int().min(1).max(8),
  bytes: count.describe('TCP user data at the receiver'),
  tookSeconds: z.number().positive().describe('From its first byte to its last'),
  goodputMbps: mbps,
  arrived: z.array(z.strictObject({ ms: count, bytes: count })).max(65),
  packet: z
    .strictObject({ bytes: count, segmentBytes: count, timestamps: z.boolean() })
    .optional()
    .describe('The packet that was really used'),
  transmitted: z
    .strictObject({
      transmittedBytes: count.describe('With what was sent again'),
      retransmittedBytes: count,
      counted: z.enum(['bytes', 'segments']),
    })
    .optional(),
  idle: z
    .strictObject({ ms: z.number().positive(), by: z.enum(['kernel', 'program']) })
    .optional()
    .describe('Least round trip before the load'),
  loadedMs: z.array(z.number().positive()).describe('Round trip under load, one a second'),
  waited: z
    .strictObject({ window: share, buffer: share })
    .optional()
    .describe('Share of its time that the sender waited for the window, or its own buffer'),
  ends: z.array(end).length(2).describe('Sender, receiver'),
  absent: z.record(z.string(), z.string()).describe('Why a value is absent, by its name'),
});

const direction = z.strictObject({
  from: z.string(),
  to: z.string(),
  toAddress: z.string(),
  notDone: z.strictObject({ seen: z.string(), remedy: z.string() }).optional(),
  measured: measured.optional(),
  ceiling: z
    .strictObject({ rateMbps: mbps, packetBytes: count, goodputMbps: share })
    .optional()
    .describe('Absent: no speed of the path is declared or read'),
  metrics: z
    .strictObject({
      idealSeconds: z.number().positive().optional(),
      timeRatio: z.number().positive().optional().describe('RFC 6349 4.1.2'),
      efficiencyPercent: z.number().optional().describe('RFC 6349 4.2'),
      averageRttMs: z.number().positive().optional(),
      bufferDelayPercent: z.number().optional().describe('RFC 6349 4.3'),
    })
    .optional(),
  limits: z
    .array(
      z.strictObject({
        kind: z.enum(['line', 'processor', 'window', 'send-buffer', 'losses']),
        certainty: z.enum(['is', 'likely']),
        says: z.string(),
        next: z.string().optional(),
      }),
    )
    .optional(),
  reachesDeclared: z
    .boolean()
    .optional()
    .describe('Absent: nothing is declared, or it was too short or cut off and tells nothing'),
  explanations: z
    .array(z.string())
    .optional()
    .describe('Kinds, the likeliest first; none where a limit was measured'),
});

/** A transfer as JSON. */
export const transferSchema = z
  .strictObject({
    transfer: z.literal(1).describe('Version of this form'),
    path: z.string(),
    declaredMbps: mbps.optional().describe('Goodput that the intent declares'),
    interrupted: z.boolean(),
    directions: z.array(direction),
    proofs: z.array(transferProofSchema).describe('Directions that were measured to their end'),
  })
  .describe('A bounded TCP transfer between two hosts, measured as RFC 6349 does');

/** The JSON Schema of the form, as `src/schemas/transfer.schema.json` holds it. */
export function transferJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(transferSchema, { target: 'draft-7' });
  return { ...schema, title: 'hopgauge transfer' };
}
