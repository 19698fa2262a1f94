import type { Intent } from '../intent/types.ts';
import { buildSite } from '../site/build-site.ts';
import { indexSite } from '../site/site-index.ts';
import type { Site } from '../site/types.ts';
import { applyToIntent } from './apply-steps.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { StepOutcome } from './confirmation.ts';
import type { ChangeStep } from './types.ts';

/** What was read now, joined with the cords and devices that are really there. */
export interface Placed {
  /** The bench, its found site joined so. */
  readonly bench: ConfirmBench;
  /** The same as if no step was taken of which nobody can tell; absent: there is none. */
  readonly otherwise?: Site;
  /** Ids of the links that such a step takes or lays. */
  readonly doubtfulLinks: ReadonlySet<string>;
}

/**
 * Joins what was read with what is declared once the steps are done that were really done: a cord
 * that was not moved is in its old place, and what runs over it is no success of the change. What
 * cannot be told counts as done, and `otherwise` tells what if not.
 */
export function placedBench(bench: ConfirmBench, outcomes: readonly StepOutcome[]): Placed {
  const told = bench.order.map((step, at) => ({ step, outcome: outcomes[at] }));
  const done = told.flatMap(({ step, outcome }) => placed(step, outcome));
  const doubtful = told.filter(
    ({ outcome }) => outcome?.expected === true && outcome.verdict === 'cannot-tell',
  );
  const unsure = new Set(doubtful.map(({ step }) => step));
  const rest = done.filter((step) => !unsure.has(step));
  const cords = doubtful.flatMap(({ step }) => step.cord ?? []);
  const links = cords.flatMap(({ takes, lays }) => [takes, lays]);
  return {
    bench: withIntent(bench, applyToIntent(bench.planned.intent, done)),
    ...(isPlaced(doubtful.map(({ step }) => step))
      ? { otherwise: siteWith(bench, applyToIntent(bench.planned.intent, rest)) }
      : {}),
    doubtfulLinks: new Set(links.flatMap((link) => link?.id ?? [])),
  };
}

/** Whether any of these moves what is declared: a cord, a device, or what nobody reads. */
function isPlaced(steps: readonly ChangeStep[]): boolean {
  return steps.some(({ cord, arrives, port }) => cord ?? arrives ?? port === undefined);
}

function placed(step: ChangeStep, outcome: StepOutcome | undefined): ChangeStep[] {
  if (outcome?.verdict === 'done') return [step];
  if (outcome?.expected !== true) return [];
  if (outcome.verdict === 'cannot-tell') return [step];
  const { cord, arrives } = step;
  // A cord in a third place joins neither what it did nor what it should.
  if (cord !== undefined && outcome.verdict === 'other') {
    const { lays: _, ...gone } = cord;
    return [{ ...step, cord: gone }];
  }
  return cord === undefined && arrives === undefined ? [step] : [];
}

function siteWith({ survey }: ConfirmBench, intent: Intent): Site {
  return buildSite(intent, survey, { strict: false });
}

function withIntent(bench: ConfirmBench, intent: Intent): ConfirmBench {
  return {
    ...bench,
    foundSite: siteWith(bench, intent),
    index: indexSite(intent, bench.survey, { strict: false }),
  };
}
