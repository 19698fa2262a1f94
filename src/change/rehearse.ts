import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { judge } from '../judge/judge.ts';
import type { Policy } from '../judge/policy.ts';
import type { Judgement } from '../judge/types.ts';
import { buildSite } from '../site/build-site.ts';
import { indexSite } from '../site/site-index.ts';
import { subjectsOf } from '../site/subjects-of.ts';
import type { Site } from '../site/types.ts';
import { adviseSteps } from './advise-steps.ts';
import { auditorUnknown } from './auditor-unknown.ts';
import { brokenPairs } from './broken-pairs.ts';
import { disturbances } from './disturbed.ts';
import { stateAfter } from './foretell.ts';
import { foretellPaths, foretoldSites } from './foretell-paths.ts';
import { movedVlans, vlanRemarks, withVlansOpen } from './moved-vlans.ts';
import { orderModel } from './order-model.ts';
import { orderSteps } from './order-steps.ts';
import type { PlannedChange } from './plan-change.ts';
import type { Rehearsal } from './rehearsal.ts';
import { remarksOn } from './remarks.ts';
import { runningState } from './running-state.ts';
import { farEndRemarks, settledRemarks } from './settled-remarks.ts';
import { brokenIn, movedVerdicts, type StepVerdicts, stepVerdicts } from './step-verdicts.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';
import { waysInLost } from './way-in-lost.ts';
import { waysOf } from './ways.ts';

/** What a change is rehearsed on. */
export interface Stage {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly policies: readonly Policy[];
  /** ISO 8601 date or time: the day for which waivers count. */
  readonly now: string;
}

/** Judges a change on a copy of what was read: its steps, the order of them, and what they leave. */
export function rehearse(stage: Stage, planned: PlannedChange): Rehearsal {
  const { survey } = stage;
  const { steps } = planned;
  const moved = movedVlans(stage.intent, planned.intent);
  const open = { ...planned, intent: withVlansOpen(planned.intent, moved) };
  const model = orderModel(open.intent, survey, planned);
  const order = orderSteps(model);
  const start = runningState(model, []).cost();
  const ordered = { start, ...(order === undefined ? {} : { order }) };
  const index = indexSite(planned.intent, survey, { strict: false });
  const site = buildSite(stage.intent, survey, { strict: false });
  const before = judgedSite(stage, site, stage.intent.waivers);
  const pairs = order && brokenPairs(model, order.steps);
  const paths = order && foretellPaths(open, survey, order.steps);
  const stops = order && disturbances(planned, survey, order.steps);
  const sites = order && foretoldSites(planned, survey, order.steps);
  const left = stateAfter(planned, survey, steps);
  const leaves = buildSite(left.intent, left.survey, { strict: false });
  const after = judgedSite(stage, leaves, left.intent.waivers, before);
  return {
    rehearsal: 1,
    site: stage.intent.site,
    ...(planned.about === undefined ? {} : { about: planned.about }),
    surveyedAt: survey.endedAt,
    ...ordered,
    ...(pairs === undefined ? {} : { pairs }),
    ...(paths === undefined ? {} : { paths }),
    ...(stops === undefined ? {} : { disturbs: stops }),
    ...(sites === undefined ? {} : { verdicts: verdictsIn(stage, sites) }),
    ...(sites === undefined ? {} : { lines: linesAfter(planned, survey, order?.steps ?? []) }),
    advice: adviseSteps(index, order?.steps ?? []),
    workedOut: planned.workedOut,
    alreadySo: planned.alreadySo,
    remarks: [
      ...(order === undefined ? [circle(steps)] : []),
      ...waysInLost(open, survey, order?.steps ?? []),
      ...remarksOn(index, survey, planned),
      ...settledRemarks(left.survey, steps),
      ...farEndRemarks(survey, steps),
      ...vlanRemarks(stage.intent, left),
      ...auditorUnknown(stage.intent, planned.steps),
    ],
    ...waysOf({ site, index, survey, planned, ordered }),
    ...compared(before, after),
  };
}

/** What a site comes to, with what became of all that was broken in the state before it. */
function judgedSite(
  { policies, now }: Stage,
  site: Site,
  waivers: Intent['waivers'],
  before?: Judgement,
): Judgement {
  const watch = before === undefined ? [] : brokenIn(before);
  return judge(subjectsOf(site), policies, { waivers, now, watch });
}

/** What is to be said of the line that each step sets, right after it. */
function linesAfter(
  planned: PlannedChange,
  survey: Survey,
  steps: readonly ChangeStep[],
): readonly (readonly ChangeRemark[])[] {
  return steps.map((step, at) =>
    step.line === undefined
      ? []
      : settledRemarks(stateAfter(planned, survey, steps.slice(0, at + 1)).survey, [step]),
  );
}

/** What each step does to verdicts, in the sites before the first and after each. */
function verdictsIn(stage: Stage, sites: readonly Site[]): readonly StepVerdicts[] {
  const states: Judgement[] = [];
  for (const site of sites)
    states.push(judgedSite(stage, site, site.intent.waivers, states.at(-1)));
  return stepVerdicts(states);
}

function compared(
  before: Judgement,
  after: Judgement,
): Pick<Rehearsal, 'fixed' | 'broken' | 'unknown' | 'standing'> {
  const was = new Map(before.findings.map((finding) => [finding.id, finding.verdict]));
  const { breaks, mends } = movedVerdicts(before.findings, after);
  return {
    fixed: mends,
    broken: breaks,
    unknown: after.findings.filter(
      ({ id, verdict }) => verdict === 'undetermined' && was.get(id) !== 'undetermined',
    ),
    standing: brokenIn(after).filter(({ id }) => was.get(id) === 'broken'),
  };
}

function circle(steps: readonly ChangeStep[]): ChangeRemark {
  const waiting = steps.filter(({ after }) => after.length > 0).map(({ id }) => id);
  return {
    kind: 'impossible',
    on: waiting.join(', '),
    what: 'wait for each other, so that none can be the first',
    remedy: 'take one of them out of the change',
  };
}
