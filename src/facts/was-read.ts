import type { NodeSurvey } from './survey.ts';

/** Whether a node gave an answer to at least one access; false for one that is not in the survey. */
export function wasRead(survey: Pick<NodeSurvey, 'readings'> | undefined): boolean {
  return survey?.readings.some(({ trouble }) => trouble === undefined) ?? false;
}
