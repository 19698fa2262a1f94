import { byName } from '../facts/order.ts';
import type { Survey } from '../facts/survey.ts';
import { isLinkDead } from '../site/path-joined.ts';
import { indexSite, type SiteIndex } from '../site/site-index.ts';
import { stateAfter } from './foretell.ts';
import type { PlannedChange } from './plan-change.ts';
import { reachedFrom } from './taken-down.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';

/**
 * Nodes that the machine hopgauge runs on reaches over declared links now, and not once all steps
 * are done; none: nothing is lost, or it is not declared where that machine is.
 */
export function reachLost(
  planned: PlannedChange,
  survey: Survey,
  steps: readonly ChangeStep[],
): readonly ChangeRemark[] {
  const auditor = planned.intent.nodes.find(({ access }) =>
    access.some(({ via }) => via === 'local'),
  );
  // A new MTU parts nothing for good.
  if (auditor === undefined || steps.every(({ setting }) => setting === 'mtu')) return [];
  const then = stateAfter(planned, survey, steps);
  const before = reached(auditor.name, indexSite(planned.intent, survey, { strict: false }));
  const after = reached(auditor.name, indexSite(then.intent, then.survey, { strict: false }));
  const lost = then.intent.nodes
    .filter(({ name, unread }) => unread === undefined && before.has(name) && !after.has(name))
    .map(({ name }) => name)
    .sort(byName);
  if (lost.length === 0) return [];
  return [
    {
      kind: 'impossible',
      on: lost.join(', '),
      what: `cannot be reached any more from ${auditor.name}, where hopgauge runs: no declared link that is up and carries its VLAN leads there once the change is made`,
      remedy:
        'lay another link before, or run hopgauge where it still reaches them, and declare that',
    },
  ];
}

function reached(from: string, index: SiteIndex): ReadonlySet<string> {
  const alive = index.links.filter((link) => !isLinkDead(link, index));
  return reachedFrom(
    from,
    alive.map(({ declared }) => declared),
  );
}
