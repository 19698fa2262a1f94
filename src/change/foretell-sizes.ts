import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import { clearances } from '../site/clearance.ts';
import { isPlanJoined } from '../site/path-joined.ts';
import type { PathPlan } from '../site/path-plan.ts';
import { pathRange } from '../site/path-range.ts';
import { planPaths } from '../site/plan-path.ts';
import { type Company, companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite, type PortRef, portRef } from '../site/site-index.ts';
import { unreadEvidence } from '../site/unread-evidence.ts';
import { bytesOf, type ForetoldState, type PathState, stateAfter } from './foretell.ts';
import type { PlannedChange } from './plan-change.ts';
import type { ChangeStep } from './types.ts';

/**
 * What every path passes after each step, as the joined site would tell it: paths are planned anew
 * only where a cord has moved, since nothing else moves a hop.
 */
export function foretellSizes(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): readonly (readonly PathState[])[] {
  let plans = plansOf(stateAfter(planned, survey, []));
  return order.map((step, at) => {
    const state = stateAfter(planned, survey, order.slice(0, at + 1));
    if (step.touches !== undefined) plans = plansOf(state);
    return sizesIn(plans, state);
  });
}

/** The hops of every path. */
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
    const { id, hops, mtuBytes } = plan;
    const sized = hops.map(({ ref, tags }) => {
      return { id: ref.id, clearance: clearanceOf(nowOf(ref), { bytes: mtuBytes, tags }) };
    });
    const { atLeastBytes, atMostBytes } = pathRange(plan, sized);
    return {
      id,
      joined: isPlanJoined(plan, index, nowOf),
      ...bytesOf('atLeastBytes', atLeastBytes),
      ...bytesOf('atMostBytes', atMostBytes),
      ...bytesOf('declaredBytes', mtuBytes),
    };
  });
}
