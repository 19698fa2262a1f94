import type { ClosedNight } from '../drift/close-night.ts';
import type { Survey } from '../facts/survey.ts';
import type { Judgement, Severity } from '../judge/types.ts';
import type { Site } from '../site/types.ts';
import type { PagePast } from './page/past/page-past.ts';

/** Everything that a report says of one audit. Reports are pure functions of it. */
export interface AuditResult {
  readonly site: Site;
  readonly judgement: Judgement;
  /** Absent: nothing was read; the intent was judged alone. */
  readonly survey?: Survey;
  /** ISO 8601 UTC, with milliseconds. */
  readonly startedAt: string;
  readonly endedAt: string;
  readonly toolVersion: string;
  /** Hops known only from the intent were not counted as met. */
  readonly strict: boolean;
  /** The least severity that the exit status counts. */
  readonly least: Severity;
  /** What moved since the audit before; absent: no history was asked for. */
  readonly moved?: Moved;
  /** The nights before and this one, as the page draws them; absent: not asked for, or none. */
  readonly past?: PagePast;
}

/** What moved since the audit before, as far as a report tells it. */
export type Moved = Omit<ClosedNight, 'night'>;
