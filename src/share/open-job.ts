import type { PlannedNode } from '../collect/plan.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { QueueJob } from './work-queue.ts';

/** A node that collectors were asked for and that is not answered yet. */
export interface OpenJob {
  readonly job: QueueJob;
  readonly node: PlannedNode;
  readonly resolve: (survey: NodeSurvey) => void;
  /** When its lock was first found missing. */
  missingSince?: number;
  taken: boolean;
}

/** Jobs of one run by their ids. */
export type OpenJobs = Map<string, OpenJob>;

/** Answers a job, once. */
export function settle(open: OpenJobs, id: string, survey: NodeSurvey): void {
  open.get(id)?.resolve(survey);
  open.delete(id);
}
