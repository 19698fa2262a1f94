import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import type { Policy } from '../judge/policy.ts';
import { buildSite } from '../site/build-site.ts';
import { indexSite, type SiteIndex } from '../site/site-index.ts';
import type { Site } from '../site/types.ts';
import { type ForetoldState, stateAfter } from './foretell.ts';
import type { PlannedChange } from './plan-change.ts';
import type { ChangeStep } from './types.ts';

/** What a change is confirmed on. */
export interface ConfirmStage {
  /** What was declared before the change. */
  readonly before: Intent;
  readonly planned: PlannedChange;
  readonly order: readonly ChangeStep[];
  /** The survey that it was rehearsed on. */
  readonly kept: Survey;
  /** The survey of now. */
  readonly survey: Survey;
  /** In force now. */
  readonly policies: readonly Policy[];
  /** ISO 8601 date or time: the day for which waivers count. */
  readonly now: string;
  /** Number of the last step that is to be done by now. */
  readonly upTo: number;
}

/** The same with what is foretold and what is found, joined once. */
export interface ConfirmBench extends ConfirmStage {
  /** After the steps that are to be done by now. */
  readonly foretold: ForetoldState;
  readonly foretoldSite: Site;
  /** What is declared in that state, with what was read now. */
  readonly foundSite: Site;
  readonly index: SiteIndex;
}

/** Joins what was read before and now with what is declared once the steps up to now are done. */
export function setUp(stage: ConfirmStage): ConfirmBench {
  const { planned, kept, order, upTo, survey } = stage;
  const foretold = stateAfter(planned, kept, order.slice(0, upTo));
  return {
    ...stage,
    foretold,
    foretoldSite: buildSite(foretold.intent, foretold.survey, { strict: false }),
    foundSite: buildSite(foretold.intent, survey, { strict: false }),
    index: indexSite(foretold.intent, survey, { strict: false }),
  };
}
