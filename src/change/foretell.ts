import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { buildSite } from '../site/build-site.ts';
import type { Site } from '../site/types.ts';
import { applySteps, applyToIntent } from './apply-steps.ts';
import type { PlannedChange } from './plan-change.ts';
import type { ChangeStep } from './types.ts';

/** What is declared and what would be read in one state of a change. */
export interface ForetoldState {
  readonly intent: Intent;
  readonly survey: Survey;
}

/** What is foretold, or found, of one pair of ends of a path. */
export interface PathState {
  /** `SitePath.id`. */
  readonly id: string;
  /** The declared links join its ends. */
  readonly joined: boolean;
  /** IP packet in bytes that passes every hop for certain; absent: not known. */
  readonly atLeastBytes?: number;
  /** IP packet in bytes beyond which nothing passes; absent: not known. */
  readonly atMostBytes?: number;
  /** IP packet in bytes that is declared; absent: none. */
  readonly declaredBytes?: number;
}

/** The state in which `steps` of a change are done, in whatever order they were taken. */
export function stateAfter(
  { intent }: PlannedChange,
  survey: Survey,
  steps: readonly ChangeStep[],
): ForetoldState {
  const after = applySteps(intent, survey, steps);
  const sized = steps.some(({ setting }) => setting === 'mtu');
  // What live sessions agreed on before says nothing of those after.
  const nodes = sized ? after.nodes.map((node) => ({ ...node, sessions: [] })) : after.nodes;
  return { intent: applyToIntent(intent, steps), survey: { ...after, nodes } };
}

/** What each path of a site passes. */
export function pathStates({ paths }: Site): PathState[] {
  return paths.map(({ id, subject: { facts } }) => ({
    id,
    joined: facts['connected'] !== false,
    ...bytesOf('atLeastBytes', facts['mtuAtLeastBytes']),
    ...bytesOf('atMostBytes', facts['mtuAtMostBytes']),
    ...bytesOf('declaredBytes', facts['declaredMtuBytes']),
  }));
}

function bytesOf(name: keyof PathState, value: unknown): Partial<PathState> {
  return typeof value === 'number' ? { [name]: value } : {};
}

/** Steps up to which the state after each is foretold. */
const foretoldStepsMax = 64;

/** What every path passes before the first step, and which pass something else after each. */
export interface ForetoldPaths {
  readonly start: readonly PathState[];
  /** By step, in their order; only the paths of which something is another than before it. */
  readonly after: readonly (readonly PathState[])[];
}

/**
 * The site before the first step and after each; undefined: there are too many steps, since every
 * state joins the whole site anew.
 */
export function foretoldSites(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): readonly Site[] | undefined {
  if (order.length > foretoldStepsMax) return undefined;
  return Array.from({ length: order.length + 1 }, (_, done) => {
    const state = stateAfter(planned, survey, order.slice(0, done));
    return buildSite(state.intent, state.survey, { strict: false });
  });
}

/** What is foretold of every path, step by step, in the sites of `foretoldSites`. */
export function foretellPaths(sites: readonly Site[]): ForetoldPaths {
  const [start = [], ...rest] = sites.map(pathStates);
  return {
    start,
    after: rest.map((paths, at) => {
      const before = new Map(
        (at === 0 ? start : (rest[at - 1] ?? [])).map((path) => [path.id, JSON.stringify(path)]),
      );
      return paths.filter((path) => before.get(path.id) !== JSON.stringify(path));
    }),
  };
}
