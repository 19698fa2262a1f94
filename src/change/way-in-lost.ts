import type { Survey } from '../facts/survey.ts';
import { indexSite, portId, type SiteIndex } from '../site/site-index.ts';
import { auditorOf, reachedBy } from './auditor-reach.ts';
import { stateAfter } from './foretell.ts';
import type { PlannedChange } from './plan-change.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';
import { wayIn } from './way-in.ts';

/** Steps up to which the ways in are looked at after each. */
const stepsLookedAtMax = 64;

/**
 * Nodes that cannot be reached any more once a step is taken, since the link of the port by which
 * they are read is down or gone for good, or since no declared link joins them any more to the
 * machine that hopgauge runs on, where that is declared: impossible where it stays so, a caution
 * where a later step brings it back, and more so where that step is on the node itself.
 */
export function waysInLost(
  planned: PlannedChange,
  survey: Survey,
  order: readonly ChangeStep[],
): ChangeRemark[] {
  // A new MTU takes no link away for good.
  const moves = order.filter(({ setting }) => setting !== 'mtu');
  if (moves.length === 0 || order.length > stepsLookedAtMax) return [];
  const at = order.map((_, done) => lostIn(planned, survey, order.slice(0, done + 1)));
  const last = at.at(-1) ?? new Map<string, string>();
  const names = new Set(at.flatMap((lost) => [...lost.keys()]));
  return [...names].map((on): ChangeRemark => {
    const first = at.findIndex((lost) => lost.has(on));
    const because = at[first]?.get(on) ?? '';
    if (last.has(on))
      return {
        kind: 'impossible',
        on,
        what: `cannot be reached once the change is made: from step ${first + 1} on ${because}`,
        remedy: `make another way in before the change, and declare its address; or take step ${first + 1} out`,
      };
    const back = at.findIndex((lost, step) => step > first && !lost.has(on));
    const own = order.slice(first + 1, back + 1).some(({ node }) => node === on);
    return {
      kind: 'caution',
      on,
      what: `cannot be reached between step ${first + 1} and step ${back + 1}: ${because}`,
      remedy: own
        ? `take step ${back + 1} from its console: nobody gets there over the network`
        : `have its console at hand, and take step ${back + 1} at once`,
    };
  });
}

/** Nodes that are lost once some steps are done, each with the reason in words. */
function lostIn(
  planned: PlannedChange,
  survey: Survey,
  done: readonly ChangeStep[],
): ReadonlyMap<string, string> {
  const auditor = auditorOf(planned.intent);
  const then = stateAfter(planned, survey, done);
  const lost = new Map(unlinked(planned, survey, done));
  if (auditor === undefined) return lost;
  // The machine itself is always at hand; what it no longer reaches is told of the others.
  lost.delete(auditor);
  const before = reachedBy(auditor, stateAfter(planned, survey, []));
  const after = reachedBy(auditor, then);
  for (const { name, unread } of then.intent.nodes)
    if (unread === undefined && !lost.has(name) && before.has(name) && !after.has(name))
      lost.set(
        name,
        `no declared link that is up and carries its VLAN leads there from ${auditor}, where hopgauge runs`,
      );
  return lost;
}

/** Nodes of which every port of the way in with hardware has lost its link, with the first such port. */
function unlinked(
  planned: PlannedChange,
  survey: Survey,
  done: readonly ChangeStep[],
): ReadonlyMap<string, string> {
  const then = stateAfter(planned, survey, done);
  const before = indexSite(planned.intent, survey, { strict: false });
  const after = indexSite(then.intent, then.survey, { strict: false });
  const lost = new Map<string, string>();
  for (const name of nodesTouched(done)) {
    const view = before.nodes.get(name);
    const way = view && wayIn(view);
    if (view === undefined || way === undefined) continue;
    const ports = [...way].filter((port) => view.ports.get(port)?.facts.kind === 'physical');
    const [first] = ports;
    const had = linkedPorts(before, name);
    const has = linkedPorts(after, name);
    const facts = (port: string) => after.nodes.get(name)?.ports.get(port)?.facts;
    const isLost = (port: string) =>
      (had.has(port) && !has.has(port)) ||
      (view.ports.get(port)?.facts.operUp === true && facts(port)?.operUp === false);
    if (first !== undefined && ports.every(isLost)) {
      lost.set(name, `${portId(view, first)}, by which ${name} is read, has no link`);
    }
  }
  return lost;
}

/** Nodes whose links some step moves: those of its own ports, and those at the other ends. */
function nodesTouched(steps: readonly ChangeStep[]): ReadonlySet<string> {
  return new Set(
    steps.flatMap(({ node, across, touches = [] }) => [
      node,
      ...(across === undefined ? [] : [across.node]),
      ...touches.map((each) => each.node),
    ]),
  );
}

/** Own names of the ports of a node at which a link is declared. */
function linkedPorts({ linksOf }: SiteIndex, name: string): ReadonlySet<string> {
  const ends = (linksOf.get(name) ?? []).flatMap((link) => link.ends);
  return new Set(ends.flatMap((end) => (end.node.declared.name === name ? [end.name] : [])));
}
