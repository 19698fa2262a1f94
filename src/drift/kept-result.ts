import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import type { Judgement, Severity } from '../judge/types.ts';
import type { ClosedNight } from './close-night.ts';

/**
 * The latest audit of a site as it was judged, but for the readings of the nodes, which the history
 * has anyway. Kept so that pages can be written of it later, with the verdicts of that night: what
 * was compared with the night before cannot be judged again.
 */
export interface KeptResult {
  /** As it was loaded; it names secrets and holds none. */
  readonly intent: Intent;
  readonly judgement: Omit<Judgement, 'watched'>;
  readonly moved: Omit<ClosedNight, 'night'>;
  /** When the survey was taken, ISO 8601 UTC, and what active tests had shown by then. */
  readonly survey: Pick<Survey, 'startedAt' | 'endedAt' | 'fits' | 'transfers'>;
  /** Nodes that gave no answer, with what kept them from it. */
  readonly unread: readonly NodeSurvey[];
  /** ISO 8601 UTC. */
  readonly startedAt: string;
  readonly endedAt: string;
  readonly toolVersion: string;
  readonly strict: boolean;
  readonly least: Severity;
}
