import type { PortSurvey } from '../facts/survey.ts';
import { above, leadsOut } from './ends.ts';
import { networkOf } from './network.ts';
import type { End, FoundLink, Machine } from './types.ts';

/** An addressed interface of a machine, and what is known of the broadcast domain it stands in. */
export interface Standing {
  readonly machine: Machine;
  readonly iface: PortSurvey;
  readonly network: string;
  /** VLAN on the wire, where a tag or the switch tells. */
  readonly vlan?: number;
}

/**
 * The addressed interfaces of all machines that lead out of them. The VLAN is that of the tag, or,
 * of frames without one, what the switch at the other end makes of them.
 */
export function standingsOf(
  machines: readonly Machine[],
  links: readonly FoundLink[],
): readonly Standing[] {
  const untagged = untaggedVlans(links);
  return machines.flatMap((machine) => {
    const vlans = vlanOfInterfaces(machine, untagged);
    return [...machine.ports.values()].flatMap((iface) => {
      if (!leadsOut(machine, iface)) return [];
      const vlan = vlans.get(iface.name);
      const networks = new Set(
        (iface.facts.addresses ?? []).flatMap((each) => networkOf(each) ?? []),
      );
      return [...networks].map((network) => ({
        machine,
        iface,
        network,
        ...(vlan === undefined ? {} : { vlan }),
      }));
    });
  });
}

type VlanAt = (end: End) => number | undefined;

/** The VLAN that the other end of a port's link gives to frames without a tag. */
function untaggedVlans(links: readonly FoundLink[]): VlanAt {
  const found = new Map<PortSurvey, number>();
  for (const { ends } of links) {
    for (const [end, far] of [ends, [ends[1], ends[0]] as const]) {
      const vlan = pvidOf(far);
      if (vlan !== undefined) found.set(end.port, vlan);
    }
  }
  return ({ port }) => found.get(port);
}

/**
 * The VLAN of frames without a tag at a port: its own, else that of the aggregate it is in, since
 * members are seldom bridge ports. A VLAN that leaves with a tag there is not the one.
 */
export function pvidOf({ machine, port }: End): number | undefined {
  const { aggregate } = port.facts;
  const upper = aggregate === undefined ? undefined : machine.ports.get(aggregate);
  const { untaggedVlan, untaggedVlans } = { ...upper?.facts, ...port.facts };
  if (untaggedVlan === undefined) return undefined;
  return untaggedVlans === undefined || untaggedVlans.includes(untaggedVlan)
    ? untaggedVlan
    : undefined;
}

function vlanOfInterfaces(machine: Machine, untagged: VlanAt): ReadonlyMap<string, number> {
  const vlans = new Map<string, number>();
  for (const port of machine.ports.values()) {
    if (port.facts.kind !== undefined && port.facts.kind !== 'physical') continue;
    const plain = untagged({ machine, port });
    for (const { iface, vlan } of above(machine, port)) {
      const at = vlan ?? plain;
      if (at !== undefined && !vlans.has(iface.name)) vlans.set(iface.name, at);
    }
  }
  return vlans;
}
