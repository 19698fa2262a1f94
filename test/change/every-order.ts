import { applyStep, applyToIntent } from '../../src/change/apply-steps.ts';
import { addCosts, compareCosts, noCost, worseCost } from '../../src/change/state-cost.ts';
import type { ChangeStep, StateCost } from '../../src/change/types.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Hop, Site, SitePath } from '../../src/site/types.ts';

/** The best worst state of all orders, and the best sum of those that have it. */
export interface BestOfAll {
  readonly worst: StateCost;
  readonly sum: StateCost;
}

/**
 * Tries every order there is, one step after the other on a copy of the survey, joining and judging
 * the whole site after each. Slow and obvious. Undefined where a system refuses every order.
 */
export function everyOrder(
  intent: Intent,
  survey: Survey,
  steps: readonly ChangeStep[],
): BestOfAll | undefined {
  const costs = new Map<string, StateCost>();
  const costAt = (done: readonly ChangeStep[], now: Survey): StateCost => {
    const key = done
      .map(({ id }) => id)
      .sort()
      .join();
    const known =
      costs.get(key) ?? costOfSite(buildSite(applyToIntent(intent, done), now, { strict: false }));
    costs.set(key, known);
    return known;
  };
  let best: BestOfAll | undefined;
  const go = (done: readonly ChangeStep[], now: Survey, so: BestOfAll) => {
    if (done.length === steps.length) {
      const better =
        best === undefined ||
        (compareCosts(so.worst, best.worst) || compareCosts(so.sum, best.sum)) < 0;
      if (better) best = so;
      return;
    }
    for (const step of steps) {
      if (done.includes(step) || isRefused(now, step) || undoes(now, step, done)) continue;
      if (isTaken(applyToIntent(intent, done), step)) continue;
      const then = applyStep(intent, now, step);
      const all = [...done, step];
      const bounces = step.disturbs === 'nothing' ? 0 : 1;
      const cost = { ...costAt(all, then), bounces };
      go(all, then, { worst: worseCost(so.worst, cost), sum: addCosts(so.sum, cost) });
    }
  };
  go([], survey, { worst: noCost, sum: noCost });
  return best;
}

/** Linux: a VLAN interface above what it stands on is out of range. */
function isRefused(survey: Survey, step: ChangeStep): boolean {
  const node = survey.nodes.find((each) => each.node === step.node);
  const facts = (name: string) => node?.ports.find((port) => port.name === name)?.facts;
  const own = facts(step.portName ?? '');
  if (own?.kind !== 'vlan' || typeof step.to !== 'number') return false;
  return step.to > (facts(own.lowerPorts?.[0] ?? '')?.mtuBytes ?? Infinity);
}

/** A cord is in the port that this one comes to, and it is not the one that is moved. */
function isTaken({ links }: Intent, { cord }: ChangeStep): boolean {
  const ends = ({ ends: [a, b] }: Intent['links'][number]) =>
    [a, b].map(({ node, port }) => `${node}:${port}`);
  const comes = cord?.lays === undefined ? [] : ends(cord.lays);
  return links.some(
    (link) => link.id !== cord?.takes?.id && ends(link).some((end) => comes.includes(end)),
  );
}

/** What is set on a bond goes for its members, whatever was set on them before. */
function undoes(survey: Survey, step: ChangeStep, done: readonly ChangeStep[]): boolean {
  const node = survey.nodes.find((each) => each.node === step.node);
  const own = node?.ports.find(({ name }) => name === step.portName)?.facts;
  if (own?.kind !== 'bond') return false;
  const members = own.lowerPorts ?? [];
  return done.some((each) => each.node === step.node && members.includes(each.portName ?? ''));
}

/** What is wrong with the paths of a site as it stands. */
export function costOfSite({ paths }: Site): StateCost {
  return paths.map(costOfPath).reduce(addCosts, noCost);
}

/** Whether links that are up, and in VLAN 20 as far as they say, lead from one end to the other. */
function isLinked({ hops, subject, from, to }: SitePath): boolean {
  if (subject.facts['connected'] === false) return false;
  const isDead = ({ port }: Hop) => {
    const { operUp, vlansMissing = [] } = port.subject.facts;
    return operUp === false || (vlansMissing as readonly number[]).includes(20);
  };
  const dead = new Set(hops.filter(isDead).map(({ linkId }) => linkId));
  const alive = hops.filter(({ linkId }) => linkId !== undefined && !dead.has(linkId));
  let reached = new Set([from]);
  for (let before = 0; before !== reached.size; ) {
    before = reached.size;
    const links = alive.filter(({ port }) => reached.has(port.node)).map(({ linkId }) => linkId);
    const next = alive.filter(({ linkId }) => links.includes(linkId)).map(({ port }) => port.node);
    reached = new Set([...reached, ...next]);
  }
  return reached.has(to);
}

function costOfPath(path: SitePath): StateCost {
  const { hops, subject } = path;
  const declaredBytes = Number(subject.facts['declaredMtuBytes']);
  if (!isLinked(path)) return { ...noCost, pathsApart: 1, clearanceLackBytes: declaredBytes };
  const least = (chosen: readonly Hop[]) =>
    Math.min(Infinity, ...chosen.flatMap(({ clearance }) => clearance.atMostBytes ?? []));
  const at = (position: Hop['position']) => hops.filter((hop) => hop.position === position);
  const top = ({ port }: Hop) => (port.survey?.facts.addresses ?? []).length > 0;
  const ends = (['from', 'to'] as const).map((side) => ({
    sends: least(at(side).filter(top)),
    below: least(at(side).filter((hop) => !top(hop))),
  }));
  const sends = ends.map((end) => end.sends);
  const lost =
    Math.max(...sends) > least(at('switch')) || ends.some((end) => end.sends > end.below);
  const lack = Math.max(0, declaredBytes - least(hops));
  return {
    pathsApart: 0,
    pathsCut: Number(lost),
    pathsReduced: Number(!lost && (lack > 0 || sends[0] !== sends[1])),
    clearanceLackBytes: lack,
    bounces: 0,
  };
}
