import { type ConfirmStage, setUp } from './confirm-stage.ts';
import type { Confirmation } from './confirmation.ts';
import { findingOutcomes } from './finding-outcomes.ts';
import { followerOutcomes, readerOfTaken, stepsTaken } from './follower-outcomes.ts';
import { movedSince } from './moved-since.ts';
import { pathOutcomes, wayOutcomes } from './path-outcomes.ts';
import { placedBench } from './placed.ts';
import { stepOutcomes } from './step-outcomes.ts';

/** Judges what came true of a rehearsed change once its first `upTo` steps are to be done. */
export function confirm(
  stage: ConfirmStage,
  named: Pick<Confirmation, 'change' | 'rehearsedAt'>,
): Confirmation {
  const bench = setUp(stage);
  const { planned, kept, survey, order } = stage;
  const steps = stepOutcomes(bench);
  const there = placedBench(bench, steps);
  const taken = readerOfTaken(bench, steps);
  const followers = followerOutcomes(bench, taken);
  return {
    confirmation: 1,
    site: planned.intent.site,
    ...(planned.about === undefined ? {} : { about: planned.about }),
    ...named,
    beforeAt: kept.endedAt,
    readAt: survey.endedAt,
    upTo: stage.upTo,
    steps,
    followers,
    paths: pathOutcomes(there),
    ways: wayOutcomes(bench.foretoldSite, there.bench.foundSite),
    findings: findingOutcomes(there),
    ...movedSince(bench, { followers, taken, steps: stepsTaken(order, steps) }),
  };
}
