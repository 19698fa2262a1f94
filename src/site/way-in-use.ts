import type { ChosenRoute } from './choose-route.ts';
import type { Hearing } from './hearing.ts';
import { stackBelow } from './layers.ts';
import { isLeftOut } from './link-aggregate.ts';
import type { NodeView } from './node-view.ts';
import type { HopPlan } from './path-plan.ts';
import type { LinkRef } from './site-index.ts';
import { isBlocked } from './spanning-tree.ts';

/** What tells which way the traffic between two ends takes now. */
export interface UseSigns {
  readonly from: NodeView;
  readonly to: NodeView;
  readonly there: ChosenRoute | undefined;
  readonly back: ChosenRoute | undefined;
  readonly hearing: Hearing;
  readonly linkOf: (id: string) => LinkRef | undefined;
}

type Use = Pick<HopPlan, 'inUse' | 'idleBecause'>;

/** Marks the hops of which spanning tree, LACP, routes or forwarding tables tell their use. */
export function withUse(hops: readonly HopPlan[], signs: UseSigns): HopPlan[] {
  const through = new Map<NodeView, Passage | undefined>();
  const passage = (node: NodeView): Passage | undefined => {
    if (!through.has(node)) through.set(node, passageOf(node, hops, signs));
    return through.get(node);
  };
  return hops.map((hop) => ({ ...hop, ...useOf(hop, signs, passage) }));
}

function useOf(
  hop: HopPlan,
  signs: UseSigns,
  passage: (node: NodeView) => Passage | undefined,
): Use {
  const link = hop.layer || hop.linkId === undefined ? undefined : signs.linkOf(hop.linkId);
  if (link !== undefined && isBlocked(link)) return { inUse: false, idleBecause: 'spanning-tree' };
  if (link !== undefined && isLeftOut(link)) return { inUse: false, idleBecause: 'lacp' };
  const route =
    hop.position === 'from' ? signs.there : hop.position === 'to' ? signs.back : undefined;
  const inUse =
    hop.position === 'switch' ? learntUse(hop, passage(hop.ref.node)) : usedBy(hop, route);
  return inUse === undefined ? {} : { inUse };
}

/** Routes tell which ports of the ends are used now; a member of an aggregate they do not. */
function usedBy({ ref }: HopPlan, route: ChosenRoute | undefined): boolean | undefined {
  const device = route?.device;
  if (device === undefined || ref.survey === undefined) return undefined;
  if (ref.name === device) return true;
  if (!stackBelow(ref.node, device).includes(ref.name)) return false;
  const sharing = (ref.node.uppers.get(ref.name) ?? []).some(
    (upper) => (ref.node.ports.get(upper)?.facts.lowerPorts ?? []).length > 1,
  );
  return sharing ? undefined : true;
}

/** Groups of ports behind which a switch has learnt the two ends. */
interface Passage {
  readonly from: readonly (readonly string[])[];
  readonly to: readonly (readonly string[])[];
}

/**
 * A switch with both ends behind one port is not between them: it has only heard what goes to all.
 * Undefined there, and where it has not learnt both.
 */
function passageOf(
  node: NodeView,
  hops: readonly HopPlan[],
  { from, to, hearing }: UseSigns,
): Passage | undefined {
  const behind = (end: NodeView, position: HopPlan['position']) => {
    const ids = new Set(hops.flatMap((hop) => (hop.position === position ? [hop.ref.id] : [])));
    return hearing
      .sightings(end.declared.name)
      .filter(({ by, kind }) => by === node && kind !== 'lldp')
      .filter(({ station }) => station.port === undefined || ids.has(station.port))
      .map(({ ports }) => ports);
  };
  const passage = { from: behind(from, 'from'), to: behind(to, 'to') };
  if (passage.from.length === 0 || passage.to.length === 0) return undefined;
  const near = new Set(passage.from.flat());
  return passage.to.flat().some((port) => near.has(port)) ? undefined : passage;
}

/** Of an aggregate the table does not tell which member carries a flow. */
function learntUse({ ref }: HopPlan, passage: Passage | undefined): boolean | undefined {
  if (passage === undefined) return undefined;
  const groups = [...passage.from, ...passage.to].filter((ports) => ports.includes(ref.id));
  if (groups.length === 0) return false;
  return groups.some((ports) => ports.length === 1) ? true : undefined;
}
