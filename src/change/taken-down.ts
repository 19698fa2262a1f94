import type { DeclaredLink } from '../intent/types.ts';
import { portRef, type SiteIndex } from '../site/site-index.ts';
import type { ChangeStep } from './types.ts';

/** Ids of the links that a step takes down while it is taken, of those that are there before it. */
export function takenDown(index: SiteIndex, step: ChangeStep): ReadonlySet<string> {
  const { node, portName, disturbs, cord } = step;
  const own = index.linksOf.get(node) ?? [];
  if (disturbs === 'nothing') return new Set();
  const isWhole = step.port === undefined && cord === undefined;
  if (disturbs === 'node-reload' || disturbs === 'node-out' || isWhole)
    return new Set(own.map(({ declared }) => declared.id));
  if (cord !== undefined) return new Set(cord.takes === undefined ? [] : [cord.takes.id]);
  const view = index.nodes.get(node);
  if (view === undefined || portName === undefined) return new Set();
  // A bond sets its members, and a VLAN interface or a bridge has no link of its own.
  const members = view.ports.get(portName)?.facts.lowerPorts ?? [];
  const names = new Set([portName, ...members]);
  const here = own.filter(({ ends }) =>
    ends.some((end) => end.node === view && names.has(portRef(index.ports, view, end.name).name)),
  );
  return new Set(here.map(({ declared }) => declared.id));
}

/** The links that are left. */
export function linksLeft(
  links: readonly DeclaredLink[],
  down: ReadonlySet<string>,
): readonly DeclaredLink[] {
  return links.filter(({ id }) => !down.has(id));
}

/** Names of the nodes that links join to `from`, itself among them, whatever segment they carry. */
export function reachedFrom(from: string, links: readonly DeclaredLink[]): ReadonlySet<string> {
  const next = new Map<string, string[]>();
  for (const { ends } of links)
    for (const [near, far] of [ends, [...ends].reverse()]) {
      if (near === undefined || far === undefined) continue;
      next.set(near.node, [...(next.get(near.node) ?? []), far.node]);
    }
  const reached = new Set([from]);
  const waiting = [from];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop())
    for (const name of next.get(at) ?? []) {
      if (reached.has(name)) continue;
      reached.add(name);
      waiting.push(name);
    }
  return reached;
}
