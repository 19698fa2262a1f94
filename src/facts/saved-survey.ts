import { cleanText } from './clean-text.ts';
import { parseJson, stableJsonPieces } from './json.ts';
import type { Survey } from './survey.ts';
import { surveySchema } from './survey-schema.ts';

/** Largest saved survey that is read, in bytes: what one text of the engine can hold. */
export const savedSurveyBytesMax = 512 * 1024 * 1024 - 24;
const faultsShownMax = 5;

/** A survey, or one line for the operator on why there is none. */
export type LoadedSurvey =
  | { readonly ok: true; readonly survey: Survey }
  | { readonly ok: false; readonly message: string };

/** A survey as text, in pieces of a node each; equal surveys give equal bytes. */
export function saveSurvey(survey: Survey): Iterable<string> {
  return stableJsonPieces(survey);
}

/**
 * Reads a saved survey back. Every value is checked against the dictionary, so that no rule meets
 * a null or a number in quotes. The message of a failure is for the operator.
 */
export function loadSurvey(text: string, file: string): LoadedSurvey {
  let value: unknown;
  try {
    value = parseJson(text);
  } catch (error) {
    const words = cleanText(error instanceof Error ? error.message : String(error), 120);
    return { ok: false, message: `${file}: not JSON: ${words}; save it again with survey --out` };
  }
  const checked = surveySchema.safeParse(value);
  if (checked.success) return { ok: true, survey: checked.data as Survey };
  const issues = checked.error.issues;
  const shown = issues.slice(0, faultsShownMax).map((issue) => {
    const where = issue.path.map(String).join('.');
    return `${where === '' ? 'top level' : cleanText(where, 120)}: ${cleanText(issue.message, 120)}`;
  });
  const rest = issues.length > shown.length ? `; and ${issues.length - shown.length} more` : '';
  return {
    ok: false,
    message: `${file}: not a survey of this version: ${shown.join('; ')}${rest}; save it again with survey --out`,
  };
}
