import { z } from 'zod';
import { subjectKinds } from '../facts/dictionary.ts';

/** A time in a report. */
export const timeSchema = z.iso
  .datetime({ precision: 3 })
  .describe('ISO 8601 UTC, with milliseconds');

/** The value of any fact. */
export const factValueSchema = z.union([
  z.number(),
  z.string(),
  z.boolean(),
  z.array(z.union([z.number(), z.string()])),
]);

/** A place in a file of the operator's, counted from 1. */
export const placeSchema = z.strictObject({
  file: z.string(),
  line: z.int().min(1),
  column: z.int().min(1),
});

/** What a rule judges. */
export const subjectSchema = z.strictObject({
  kind: z.enum(subjectKinds),
  id: z.string().describe('Unique within its kind, and the same every night'),
});
