import { z } from 'zod';
import type { FactEntry, FactType } from './entry.ts';
import { gapReasons } from './gap.ts';

const finite = z.number().refine(Number.isFinite, 'a finite number');

const ofType: Readonly<Record<FactType, z.ZodType>> = {
  number: finite,
  text: z.string(),
  flag: z.boolean(),
  numbers: z.array(finite),
  texts: z.array(z.string()),
};

/**
 * The schema of an object of facts: every key in the dictionary, every value of its type, none
 * required. Strict, since a rule trusts the type of what it compares.
 */
export function factsSchema(entries: Readonly<Record<string, FactEntry>>) {
  const shape: Record<string, z.ZodType> = {};
  for (const [name, entry] of Object.entries(entries)) {
    const unit = entry.unit === undefined ? '' : ` (${entry.unit})`;
    shape[name] = ofType[entry.type].describe(`${entry.meaning}${unit}`).optional();
  }
  return z.strictObject(shape);
}

/** Schema of `Gap`. */
export const gapSchema = z.strictObject({
  reason: z.enum(gapReasons),
  words: z.string(),
  cause: z.string().optional(),
});
