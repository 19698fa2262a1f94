import type { TargetExplanation } from '../diagnose/explain-target.ts';
import { stableJson } from '../facts/json.ts';
import type { Survey } from '../facts/survey.ts';

/** An explanation as JSON: equal sites give equal bytes. */
export function explainJson(
  { kind, name, standing, parts }: TargetExplanation,
  survey: Pick<Survey, 'startedAt' | 'endedAt'> | undefined,
): string {
  const times = survey && { startedAt: survey.startedAt, endedAt: survey.endedAt };
  return stableJson({ explain: 1, target: { kind, name }, survey: times, standing, parts });
}
