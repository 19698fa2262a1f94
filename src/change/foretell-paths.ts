import type { Survey } from '../facts/survey.ts';
import { buildSite } from '../site/build-site.ts';
import type { Site } from '../site/types.ts';
import { type ForetoldState, type PathState, pathStates, stateAfter } from './foretell.ts';
import { foretellSizes } from './foretell-sizes.ts';
import type { PlannedChange } from './plan-change.ts';
import type { ChangeStep } from './types.ts';

/** Steps up to which the state after each is foretold. */
const foretoldStepsMax = 64;

/** What every path passes before the first step, and which pass something else after each. */
export interface ForetoldPaths {
  readonly start: readonly PathState[];
  /** By step, in their order; only the paths of which something is another than before it. */
  readonly after: readonly (readonly PathState[])[];
}

/** Nodes times states up to which the whole site is joined and judged in every state. */
const joinedNodesMax = 2000;

/**
 * The site before the first step and after each; undefined where that is too much to join: there
 * are too many steps, or too many nodes for them.
 */
export function foretoldSites(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): readonly Site[] | undefined {
  const states = order.length + 1;
  if (order.length > foretoldStepsMax || states * survey.nodes.length > joinedNodesMax)
    return undefined;
  return Array.from({ length: states }, (_, done) =>
    joined(stateAfter(planned, survey, order.slice(0, done))),
  );
}

function joined({ intent, survey }: ForetoldState): Site {
  return buildSite(intent, survey, { strict: false });
}

/** What is foretold of every path, step by step; undefined: there are too many steps. */
export function foretellPaths(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): ForetoldPaths | undefined {
  if (order.length > foretoldStepsMax) return undefined;
  const start = pathStates(joined(stateAfter(planned, survey, [])));
  const states = foretellSizes(planned, survey, order);
  return {
    start,
    after: states.map((paths, at) => {
      const earlier = states[at - 1] ?? start;
      const before = new Map(earlier.map((path) => [path.id, JSON.stringify(path)]));
      return paths.filter((path) => before.get(path.id) !== JSON.stringify(path));
    }),
  };
}
