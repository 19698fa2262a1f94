import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { nodeAddresses } from '../site/addresses.ts';
import type { NodeView } from '../site/node-view.ts';
import type { PathPlan } from '../site/path-plan.ts';
import { planPaths } from '../site/plan-path.ts';
import { companyOf } from '../site/port-neighbour.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite } from '../site/site-index.ts';
import { auditorOf } from './auditor-reach.ts';
import { stateAfter } from './foretell.ts';
import type { PlannedChange } from './plan-change.ts';
import { linksLeft, reachedFrom, takenDown } from './taken-down.ts';
import type { ChangeStep } from './types.ts';

/** What stops while a step is taken. */
export interface StepDisturbance {
  /** Pairs of ends that have no other way meanwhile, as `SitePath.id`. */
  readonly cut: readonly string[];
  /** Pairs that lose a link of theirs and have another way. */
  readonly detoured: readonly string[];
  /** Live TCP sessions that were read between the ends of pairs that are cut, with those ends. */
  readonly sessions: number;
  readonly sessionsOf: readonly string[];
  /** Ends of pairs that are cut whose sessions were not read at either end. */
  readonly sessionsUnread: readonly string[];
  /**
   * Nodes that the machine hopgauge runs on does not reach meanwhile; absent: it is not declared
   * where that machine is.
   */
  readonly outOfReach?: readonly string[];
}

/** Nodes times steps up to which every path is planned again without what a step takes down. */
const plannedNodesMax = 2000;

/** What each step of an order stops while it is taken; undefined: the site is too large for that. */
export function disturbances(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): readonly StepDisturbance[] | undefined {
  if (order.length * survey.nodes.length > plannedNodesMax) return undefined;
  return order.map((step, at) => {
    const before = stateAfter(planned, survey, order.slice(0, at));
    return disturbed(before.intent, { now: before.survey, read: survey }, step);
  });
}

interface Surveys {
  /** As it would be read before the step. */
  readonly now: Survey;
  /** As it was read: sessions are told by this alone. */
  readonly read: Survey;
}

function disturbed(intent: Intent, { now, read }: Surveys, step: ChangeStep): StepDisturbance {
  const index = indexSite(intent, now, { strict: false });
  const down = takenDown(index, step);
  const auditor = auditorOf(intent);
  const left = linksLeft(intent.links, down);
  const away = auditor === undefined ? {} : { outOfReach: cutOff(intent, auditor, down) };
  if (down.size === 0) return { ...silent, ...away };
  const over = plansOf(intent, now).filter(({ hops }) =>
    hops.some(({ linkId }) => linkId !== undefined && down.has(linkId)),
  );
  const joined = new Set(
    plansOf({ ...intent, links: left }, now).flatMap(({ id, connected, hops }) =>
      // Ends of which no link is left are taken to be joined by what is not declared.
      connected && hops.some(({ linkId }) => linkId !== undefined) ? [id] : [],
    ),
  );
  const cut = over.filter(({ id }) => !joined.has(id));
  const detoured = over.filter(({ id }) => joined.has(id));
  const ids = (plans: readonly PathPlan[]) => plans.map(({ id }) => id).sort(byName);
  return { cut: ids(cut), detoured: ids(detoured), ...sessionsOf(cut, read), ...away };
}

const silent: StepDisturbance = {
  ...{ cut: [], detoured: [] },
  ...{ sessions: 0, sessionsOf: [], sessionsUnread: [] },
};

function plansOf(intent: Intent, survey: Survey): PathPlan[] {
  const index = indexSite(intent, survey, { strict: false });
  findMembers(index);
  return planPaths(index, companyOf(index).hearing);
}

/** Nodes that are read, and that no link joins to the auditor without those that are down. */
function cutOff(intent: Intent, auditor: string, down: ReadonlySet<string>): string[] {
  const before = reachedFrom(auditor, intent.links);
  const after = reachedFrom(auditor, linksLeft(intent.links, down));
  return intent.nodes
    .filter(({ name, unread }) => unread === undefined && before.has(name) && !after.has(name))
    .map(({ name }) => name)
    .sort(byName);
}

type Sessions = Pick<StepDisturbance, 'sessions' | 'sessionsOf' | 'sessionsUnread'>;

/** Sessions between the ends of each pair, told by the end that read more of them. */
function sessionsOf(pairs: readonly PathPlan[], survey: Survey): Sessions {
  let sessions = 0;
  const ends = new Set<string>();
  const unread = new Set<string>();
  const seen = new Set<string>();
  for (const { from, to } of pairs) {
    const key = [from.declared.name, to.declared.name].sort(byName).join(' ');
    if (seen.has(key)) continue;
    seen.add(key);
    const counts = [countAt(from, to, survey), countAt(to, from, survey)].flatMap((n) => n ?? []);
    const count = Math.max(0, ...counts);
    sessions += count;
    const names = [from.declared.name, to.declared.name];
    for (const name of names) if (counts.length === 0) unread.add(name);
    for (const name of names) if (count > 0) ends.add(name);
  }
  const sorted = (names: ReadonlySet<string>) => [...names].sort(byName);
  return { sessions, sessionsOf: sorted(ends), sessionsUnread: sorted(unread) };
}

/** Sessions that one end has with another; undefined: they were not read there. */
function countAt(near: NodeView, far: NodeView, { nodes }: Survey): number | undefined {
  const read = nodes.find(({ node }) => node === near.declared.name);
  if (read === undefined || near.gap !== undefined || read.gaps['sessions'] !== undefined)
    return undefined;
  if (read.facts.systemKind !== 'linux') return undefined;
  const addresses = new Set(nodeAddresses(far));
  return read.sessions
    .filter(({ remote }) => addresses.has(remote))
    .reduce((sum, { count }) => sum + count, 0);
}
