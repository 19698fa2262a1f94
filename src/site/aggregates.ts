import type { PortSurvey } from '../facts/survey.ts';
import { stackBelow } from './layers.ts';
import type { NodeView } from './node-view.ts';

/** The aggregate that a port is a member of, as its node tells; undefined: none that was read. */
export function aggregateOf(node: NodeView, port: string): PortSurvey | undefined {
  const named = node.ports.get(node.ports.get(port)?.facts.aggregate ?? '');
  if (named !== undefined) return named;
  const above = (node.uppers.get(port) ?? []).flatMap((name) => node.ports.get(name) ?? []);
  return above.find(({ facts }) => facts.kind === 'bond');
}

/** The ports at the bottom of what `name` is built on: itself where it is built on none. */
export function bottomPorts(node: NodeView, name: string): string[] {
  const members = [...node.ports.values()].filter(({ facts }) => facts.aggregate === name);
  const below = stackBelow(node, name).filter(
    (each) => (node.ports.get(each)?.facts.lowerPorts ?? []).length === 0,
  );
  const found = [...below, ...members.map((port) => port.name)];
  const bare = found.length > 1 ? found.filter((each) => each !== name) : found;
  return [...new Set(bare)];
}
