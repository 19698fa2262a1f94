import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { buildSite } from '../site/build-site.ts';
import { clearances } from '../site/clearance.ts';
import type { PathPlan } from '../site/path-plan.ts';
import { pathRange } from '../site/path-range.ts';
import { planPaths } from '../site/plan-path.ts';
import { type Company, companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite, type PortRef, portRef } from '../site/site-index.ts';
import type { Site } from '../site/types.ts';
import { unreadEvidence } from '../site/unread-evidence.ts';
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

/** What every path passes before the first step, and which pass something else after each. */
export interface ForetoldPaths {
  readonly start: readonly PathState[];
  /** By step, in their order; only the paths of which something is another than before it. */
  readonly after: readonly (readonly PathState[])[];
}

/** Steps up to which the state after each is foretold. */
const foretoldStepsMax = 64;

/** What is foretold of every path, step by step; undefined: there are too many steps. */
export function foretellPaths(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): ForetoldPaths | undefined {
  if (order.length > foretoldStepsMax) return undefined;
  const first = stateAfter(planned, survey, []);
  const plans = plansOf(first);
  const states = Array.from({ length: order.length }, (_, at) =>
    sizesIn(plans, stateAfter(planned, survey, order.slice(0, at + 1))),
  );
  const start = pathStates(buildSite(first.intent, first.survey, { strict: false }));
  return {
    start,
    after: states.map((paths, at) => {
      const earlier = states[at - 1] ?? start;
      const before = new Map(earlier.map((path) => [path.id, JSON.stringify(path)]));
      return paths.filter((path) => before.get(path.id) !== JSON.stringify(path));
    }),
  };
}

/** The hops of every path: no step moves one, so that they are found once for all states. */
function plansOf({ intent, survey }: ForetoldState): PathPlan[] {
  const index = indexSite(intent, survey, { strict: false });
  findMembers(index);
  return planPaths(index, companyOf(index).hearing).sort((a, b) => byName(a.id, b.id));
}

/** As `pathStates` of the joined site tells it, without joining all that no size depends on. */
function sizesIn(plans: readonly PathPlan[], { intent, survey }: ForetoldState): PathState[] {
  const index = indexSite(intent, survey, { strict: false });
  let company: Company | undefined;
  const clearanceOf = clearances((ref) => {
    company ??= companyOf(index);
    return unreadEvidence(index, company, ref);
  });
  const nowOf = (ref: PortRef) => {
    const node = index.nodes.get(ref.node.declared.name) ?? ref.node;
    return index.ports.get(ref.id) ?? portRef(index.ports, node, ref.name);
  };
  return plans.map((plan) => {
    const { id, connected, hops, mtuBytes } = plan;
    const sized = hops.map(({ ref, tags }) => {
      return { id: ref.id, clearance: clearanceOf(nowOf(ref), { bytes: mtuBytes, tags }) };
    });
    const { atLeastBytes, atMostBytes } = pathRange(plan, sized);
    return {
      id,
      joined: connected,
      ...bytesOf('atLeastBytes', atLeastBytes),
      ...bytesOf('atMostBytes', atMostBytes),
      ...bytesOf('declaredBytes', mtuBytes),
    };
  });
}
