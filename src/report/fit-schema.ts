import { z } from 'zod';
import { fitProofSchema } from '../facts/proof-schema.ts';
import { timeSchema } from './schema-parts.ts';

const bytes = z.int().min(1).describe('IP packet in bytes');
const words = z.string();

const verdict = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('passes') }),
  z.strictObject({
    kind: z.literal('own-interface-small'),
    device: z.string().optional(),
    mtuBytes: bytes.optional(),
    words,
  }),
  z.strictObject({ kind: z.literal('route-small'), mtuBytes: bytes, words }),
  z.strictObject({
    kind: z.literal('router-said'),
    address: z.string().optional().describe('Absent: the sender had learnt it before'),
    mtuBytes: bytes.optional(),
    words,
  }),
  z.strictObject({ kind: z.literal('silent') }),
  z.strictObject({ kind: z.literal('cannot-tell'), words }),
]);

const size = z.strictObject({
  sizeBytes: bytes,
  verdict,
  tries: z.int().min(0).describe('Packets sent of it; 0: it was not sent'),
});

const loss = z.strictObject({
  bytes,
  by: z
    .enum(['interface', 'route', 'router', 'learnt', 'silence'])
    .describe('Who says that it does not pass; silence: nobody'),
  mtuBytes: bytes.optional(),
  device: z.string().optional(),
  router: z.string().optional(),
  eitherWay: z.boolean().describe('True: lost on this way or on the way back'),
});

const direction = z.strictObject({
  from: z.string(),
  to: z.string(),
  toAddress: z.string().optional(),
  at: timeSchema,
  wantedBytes: bytes,
  provenBytes: bytes.optional().describe('Largest that passed in one piece; absent: none known'),
  provenByReply: z.boolean(),
  loss: loss.optional(),
  stands: z.enum(['met', 'broken', 'undetermined']),
  own: z
    .strictObject({
      device: z.string().optional(),
      interfaceMtuBytes: bytes.optional(),
      routeMtuBytes: bytes.optional(),
      learntMtuBytes: bytes.optional(),
      onLink: z.boolean().optional(),
    })
    .optional()
    .describe('What the sender says of its own way; absent: nothing was sent'),
  sizes: z.array(size).optional(),
  trouble: z
    .strictObject({ kind: z.string(), seen: z.string(), remedy: z.string() })
    .optional()
    .describe('Why nothing was sent'),
});

const reason = z.strictObject({
  kind: z.enum(['explains', 'counts', 'contradicts', 'unread', 'unknown']),
  at: z.array(z.string()).describe('Ports, node:port, or nodes'),
  says: z.string(),
  remedy: z.string(),
});

/** The JSON form of `fit`. */
export const fitSchema = z
  .strictObject({
    fit: z.literal(1).describe('Version of this form'),
    interrupted: z.boolean().describe('True: more pairs were asked for than were tried'),
    pairs: z.array(
      z.strictObject({
        path: z.string().optional().describe('Declared path; absent: none'),
        from: z.string(),
        to: z.string(),
        wantedBytes: bytes,
        directions: z.array(direction),
        reasons: z.array(reason).describe('What the facts say of it; empty: nothing to explain'),
      }),
    ),
    proofs: z.array(fitProofSchema).describe('As a survey keeps them under fits'),
  })
  .describe('hopgauge fit');

/** The JSON Schema of the form, as `src/schemas/fit.schema.json` holds it. */
export function fitJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(fitSchema, { target: 'draft-7' });
  return { ...schema, title: 'hopgauge fit' };
}
