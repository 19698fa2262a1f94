import type { StepAdvice } from '../change/advice/types.ts';
import type { ChangeStep, StateCost, StepOrder } from '../change/types.ts';
import type { WaysInWords } from './ways-words.ts';

/** One step of a procedure, with what was worked out for it. */
export interface ProcedureStep {
  readonly step: ChangeStep;
  readonly advice: StepAdvice;
  /** Where the node and port are and what to touch: labels of the run; absent: none declared. */
  readonly where?: string;
  /** What a rehearsal expects of the paths once the step is done, a sentence each. */
  readonly expected: readonly string[];
}

/** What a method of procedure is written from; every text may come from files and devices. */
export interface ProcedureInput {
  readonly site: string;
  /** What the change file says it is for. */
  readonly about: string;
  /** ISO 8601 UTC of the survey that it was rehearsed on; absent: on paper alone. */
  readonly surveyedAt?: string;
  /** The state before the first step. */
  readonly start: StateCost;
  readonly order: StepOrder;
  /** In the order of `order.steps`. */
  readonly steps: readonly ProcedureStep[];
  /** The two ways to make all of a segment agree, of each that the change moves. */
  readonly ways: readonly WaysInWords[];
  /** What the change makes whole, a sentence each. */
  readonly mends: readonly string[];
  /** What must be known or decided before: what it forgets, breaks, or could not know. */
  readonly openPoints: readonly string[];
  /** The command that reads the site again and compares: `hopgauge confirm storage.yaml`. */
  readonly confirmCommand: string;
}
