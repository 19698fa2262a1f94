import type { Finding } from '../judge/types.ts';
import type { StepAdvice } from './advice/types.ts';
import type { BrokenPairStates } from './broken-pairs.ts';
import type { StepDisturbance } from './disturbed.ts';
import type { ForetoldPaths } from './foretell-paths.ts';
import type { StepVerdicts } from './step-verdicts.ts';
import type { ChangeRemark, StateCost, StepOrder } from './types.ts';
import type { SegmentWays } from './ways-types.ts';

/** A change judged before anything is done. Plain data; kept as JSON for `confirm`. */
export interface Rehearsal {
  readonly rehearsal: 1;
  readonly site: string;
  readonly about?: string;
  /** When the survey ended that it is rehearsed on; ISO 8601 UTC. */
  readonly surveyedAt: string;
  /** The state before the first step, measured by what is declared after the change. */
  readonly start: StateCost;
  /** Absent: the steps wait for each other in a circle. */
  readonly order?: StepOrder;
  /** Which pairs `start` and the costs of `order` count; absent: no order, or too many steps. */
  readonly pairs?: BrokenPairStates;
  /** Absent: no order, or too many steps to foretell each. */
  readonly paths?: ForetoldPaths;
  /** By step; absent: no order, too many steps, or too many nodes to judge in every state. */
  readonly verdicts?: readonly StepVerdicts[];
  /** By step, as `verdicts`: what is to be said of the line that it sets, right after it. */
  readonly lines?: readonly (readonly ChangeRemark[])[];
  /** What each step stops while it is taken; absent: no order, or the site is too large for that. */
  readonly disturbs?: readonly StepDisturbance[];
  /** What a person can type for each step of the order; never run. */
  readonly advice: readonly StepAdvice[];
  readonly workedOut: boolean;
  readonly alreadySo: readonly string[];
  readonly remarks: readonly ChangeRemark[];
  /** The two ways to make all of a segment agree, of each whose MTU the change moves. */
  readonly ways: readonly SegmentWays[];
  /** Such segments of which no ways are worked out, since the change names too many. */
  readonly waysLeftOut: readonly string[];
  /** Broken before, and met or waived after all steps. */
  readonly fixed: readonly Finding[];
  /** Broken after all steps, and not before. */
  readonly broken: readonly Finding[];
  /** Undetermined after all steps, and not before. */
  readonly unknown: readonly Finding[];
  /** Broken before and after. */
  readonly standing: readonly Finding[];
}
