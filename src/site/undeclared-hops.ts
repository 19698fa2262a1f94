import { nodeAddresses, portAddresses } from './addresses.ts';
import type { ChosenRoute } from './choose-route.ts';
import { stackBelow } from './layers.ts';
import type { NodeView } from './node-view.ts';
import type { HopPlan, PathPlan } from './path-plan.ts';
import { isPhysical } from './port-kind.ts';
import { gapOf } from './provenance.ts';
import { portRef, type SiteIndex } from './site-index.ts';

/** One end of a path whose middle is not declared. */
export interface LooseEnd {
  readonly node: NodeView;
  readonly peer: NodeView;
  readonly position: 'from' | 'to';
  readonly there: ChosenRoute | undefined;
  readonly back: ChosenRoute | undefined;
}

type Found = Pick<PathPlan, 'hops' | 'missing'>;

/**
 * The interface by which an end sends to the other, with what it is built on: that of its route,
 * else the one whose address the other's route goes to.
 */
export function undeclaredHops(index: SiteIndex, end: LooseEnd): Found {
  const { node, peer } = end;
  const name = end.there?.device ?? holderOf(node, end.back?.to) ?? holderOfAny(node);
  if (name === undefined || !node.ports.has(name)) {
    const words = `the port by which it sends to ${peer.declared.name} is not known`;
    const gap = node.gap ?? gapOf('unasked', end.there?.words ?? words);
    return { hops: [], missing: [{ node: node.declared.name, gap }] };
  }
  const names = stackBelow(node, name).filter((each) => each === name || onTheWay(node, each));
  if (end.position === 'to') names.reverse();
  return { hops: names.map((each) => hop(index, end, each)), missing: [] };
}

/** Of the members of a bridge only those with hardware can lead away from the node. */
function onTheWay(node: NodeView, name: string): boolean {
  const facts = node.ports.get(name)?.facts;
  return facts !== undefined && (isPhysical(facts) || (facts.lowerPorts ?? []).length > 0);
}

function hop(index: SiteIndex, { node, position }: LooseEnd, name: string): HopPlan {
  return {
    ref: portRef(index.ports, node, name),
    position,
    distance: position === 'from' ? 0 : 1,
    layer: (node.ports.get(name)?.facts.lowerPorts ?? []).length > 0,
    tags: undefined,
    runToNext: [],
  };
}

function holderOf(node: NodeView, address: string | undefined): string | undefined {
  if (address === undefined) return undefined;
  for (const name of node.ports.keys())
    if (portAddresses(node, name)?.includes(address)) return name;
  return undefined;
}

/** The port that holds the address by which the node itself was reached. */
function holderOfAny(node: NodeView): string | undefined {
  for (const address of nodeAddresses(node)) {
    const at = node.declared.at;
    if (address === at) return holderOf(node, address);
  }
  return undefined;
}
