import { stackBelow } from './layers.ts';
import type { NodeView } from './node-view.ts';

/** Layers that are walked down, at most. */
const stepsMax = 16;

/**
 * The port of a host's stack whose MTU is to be raised so that `name` passes `bytes`: what an
 * aggregate is set to goes for its members, a bridge follows its smallest member, and a VLAN
 * interface passes no more than the port that it stands on. The name itself where nothing else is.
 */
export function portToRaise(node: NodeView, name: string, bytes: number): string {
  const small = (port: string) => (node.ports.get(port)?.facts.mtuBytes ?? bytes) < bytes;
  const aggregateOver = (port: string) =>
    (node.uppers.get(port) ?? []).find((upper) => isAggregate(node, upper) && small(upper));
  let at = name;
  for (let step = 0; step < stepsMax; step += 1) {
    if (isAggregate(node, at) && small(at)) return at;
    const lower = (node.ports.get(at)?.facts.lowerPorts ?? []).filter(small);
    // Hardware first: it holds back whatever else stands on it.
    const next =
      lower.find((port) => stackBelow(node, port).length === 1 && isPhysicalPort(node, port)) ??
      lower[0];
    if (next === undefined) return aggregateOver(at) ?? at;
    at = next;
  }
  return at;
}

function isAggregate(node: NodeView, name: string): boolean {
  return node.ports.get(name)?.facts.kind === 'bond';
}

function isPhysicalPort(node: NodeView, name: string): boolean {
  return node.ports.get(name)?.facts.kind === 'physical';
}
