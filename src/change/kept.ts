import { z } from 'zod';
import { cleanText } from '../facts/clean-text.ts';
import { parseJson, stableJson } from '../facts/json.ts';
import type { Survey } from '../facts/survey.ts';
import { surveySchema } from '../facts/survey-schema.ts';
import { changeEntriesMax } from './change-schema.ts';

const faultsShownMax = 3;

const keptSchema = z.strictObject({
  kept: z.literal(1),
  rehearsedAt: z.iso.datetime(),
  change: z.string().min(1),
  intent: z.string().min(1),
  workingFolder: z.string().optional(),
  files: z.record(z.string(), z.string()),
  order: z.array(z.string()).max(changeEntriesMax * 10),
  survey: surveySchema,
});

/**
 * What a rehearsal keeps so that the change can be confirmed: the texts that it was made of and the
 * survey that it was rehearsed on. Names of secrets are in it, never secrets.
 */
export interface KeptRehearsal {
  /** Version of the kept form. */
  readonly kept: 1;
  /** ISO 8601 UTC. */
  readonly rehearsedAt: string;
  /** The change file as it was named. */
  readonly change: string;
  /** The intent file as it was named. */
  readonly intent: string;
  /** Absolute folder that relative names start from; absent: they stand as they are. */
  readonly workingFolder?: string;
  /** Texts of the change, the intents and what these include, by their paths. */
  readonly files: Readonly<Record<string, string>>;
  /** Ids of the steps in the order that was rehearsed. */
  readonly order: readonly string[];
  readonly survey: Survey;
}

/** A kept rehearsal, or one line for the operator on why there is none. */
export type LoadedKept =
  | { readonly ok: true; readonly kept: KeptRehearsal }
  | { readonly ok: false; readonly message: string };

/** A rehearsal as it is kept; equal ones give equal bytes. */
export function keptText(kept: KeptRehearsal): string {
  return stableJson(kept);
}

/** Reads a kept rehearsal back; every value of its survey is checked. */
export function loadKept(text: string, file: string): LoadedKept {
  let value: unknown;
  try {
    value = parseJson(text);
  } catch (error) {
    const words = cleanText(error instanceof Error ? error.message : String(error), 120);
    return { ok: false, message: `${file}: damaged: not JSON: ${words}; ${remedy}` };
  }
  const checked = keptSchema.safeParse(value);
  if (checked.success) return { ok: true, kept: checked.data as KeptRehearsal };
  const other = otherForm(value);
  if (other !== undefined) return { ok: false, message: `${file}: ${other}; ${remedy}` };
  const { issues } = checked.error;
  const shown = issues.slice(0, faultsShownMax).map((issue) => {
    const where = issue.path.map(String).join('.');
    return `${where === '' ? 'top level' : cleanText(where, 120)}: ${cleanText(issue.message, 120)}`;
  });
  const rest = issues.length > shown.length ? `; and ${issues.length - shown.length} more` : '';
  const message = `${file}: not a kept rehearsal of this version: ${shown.join('; ')}${rest}; ${remedy}`;
  return { ok: false, message };
}

const remedy = 'name what rehearse --keep wrote; before the change, rehearse it again';

/** Forms of ours that are easily named in its place. */
function otherForm(value: unknown): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  if ('rehearsal' in value) return 'what rehearse --out wrote, and not what it kept';
  return !('kept' in value) && 'survey' in value ? 'a saved survey' : undefined;
}
