import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { isJoined } from '../site/path-joined.ts';
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
  /** Declared links join its ends that are up and carry its VLAN, as far as that was read. */
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
export function pathStates(site: Site): PathState[] {
  return site.paths.map((path) => ({
    id: path.id,
    joined: isJoined(path, site),
    ...bytesOf('atLeastBytes', path.subject.facts['mtuAtLeastBytes']),
    ...bytesOf('atMostBytes', path.subject.facts['mtuAtMostBytes']),
    ...bytesOf('declaredBytes', path.subject.facts['declaredMtuBytes']),
  }));
}

/** A size under its name, where there is one. */
export function bytesOf(name: keyof PathState, value: unknown): Partial<PathState> {
  return typeof value === 'number' ? { [name]: value } : {};
}
