import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { applySteps } from './apply-steps.ts';
import type { ChangeStep } from './types.ts';

/** What steps are taken on. */
interface Ground {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly steps: readonly ChangeStep[];
}

/**
 * Ids of the steps after which other links join the site: moved cords, replaced devices, and what is
 * set of a line where some of it takes a link down, or lets one come up.
 */
export function stepsThatJoin({ intent, survey, steps }: Ground): ReadonlySet<string> {
  const found = new Set<string>();
  for (const { id, cord, touches } of steps)
    if (cord !== undefined || touches !== undefined) found.add(id);
  for (const group of byLink(steps)) {
    const names = new Set(group.flatMap(({ node, across }) => [node, across?.node ?? node]));
    const near = { ...survey, nodes: survey.nodes.filter(({ node }) => names.has(node)) };
    const before = linksUp(near, group);
    const states = subsets(group).map((some) => linksUp(applySteps(intent, near, some), group));
    if (states.some((state) => state !== before)) for (const { id } of group) found.add(id);
  }
  return found;
}

/** Steps on lines, those at the two ends of one link together. */
function byLink(steps: readonly ChangeStep[]): readonly (readonly ChangeStep[])[] {
  const groups = new Map<string, ChangeStep[]>();
  for (const step of steps) {
    if (step.line === undefined) continue;
    const ends = [`${step.node}:${step.portName ?? step.port}`];
    if (step.across !== undefined) ends.push(`${step.across.node}:${step.across.name}`);
    const key = ends.sort().join(' ');
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  return [...groups.values()];
}

/** Every choice of some of the steps of one link; there are two ends. */
function subsets(group: readonly ChangeStep[]): ChangeStep[][] {
  return Array.from({ length: 2 ** Math.min(group.length, 4) - 1 }, (_, mask) =>
    group.filter((_step, bit) => ((mask + 1) & (1 << bit)) !== 0),
  );
}

/** Whether each port of some steps has a link, as a key. */
function linksUp({ nodes }: Survey, group: readonly ChangeStep[]): string {
  const ends = group.flatMap(({ node, portName, across }) => [
    { node, name: portName },
    { node: across?.node, name: across?.name },
  ]);
  return ends
    .map((end) => {
      const node = nodes.find((each) => each.node === end.node);
      return String(node?.ports.find(({ name }) => name === end.name)?.facts.operUp);
    })
    .join();
}
