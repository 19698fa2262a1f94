import { z } from 'zod';

const bytes = z
  .int()
  .min(1)
  .max(2 ** 32);

const proof = {
  from: z.string().min(1),
  to: z.string().min(1),
  toAddress: z.string().min(1),
  at: z.iso.datetime(),
};

/** Schema of `FitProof`. */
export const fitProofSchema = z
  .strictObject({
    ...proof,
    provenMtuBytes: bytes.describe('Largest IP packet that came back').optional(),
    lostBytes: bytes.describe('Smallest IP packet that is known not to pass').optional(),
    words: z.string().optional(),
  })
  .describe('What packets have shown of one direction');

/** Schema of `TransferProof`. */
export const transferProofSchema = z
  .strictObject({
    ...proof,
    tookSeconds: z.number().positive(),
    bytes: z.number().positive().describe('TCP payload that arrived'),
    streams: z.int().min(1),
    goodputMbps: z.number().positive(),
  })
  .describe('What one bounded transfer has shown of one direction');
