import { byName } from '../facts/order.ts';
import type { KnownSegment } from './against-intent.ts';
import type { NameGiver } from './names.ts';
import type { Standing } from './standings.ts';
import type { DraftSegment } from './types.ts';

/** The segments of a draft, and which of them a network or a VLAN is. */
export interface Segments {
  readonly segments: readonly DraftSegment[];
  readonly ofNetwork: (network: string) => string | undefined;
  readonly ofVlan: (vlan: number) => string | undefined;
}

interface Group {
  readonly vlans: Set<number>;
  readonly networks: Set<string>;
  readonly members: Standing[];
}

/** Machines that must agree before a value is taken for what is meant. */
const agreeingMin = 2;

/**
 * Puts addressed interfaces into broadcast domains: those of one VLAN, and those of one subnet.
 * The MTU of a segment is written only where several machines have one and the same: what differs
 * is a question, and an audit of the draft says so too. A group that is a known segment has its name.
 */
export function findSegments(
  standings: readonly Standing[],
  names: NameGiver,
  known: readonly KnownSegment[] = [],
): Segments {
  const groups = groupsOf(standings).sort((a, b) => byName(keyOf(a), keyOf(b)));
  const named = groups.map((group) => ({
    group,
    segment: segmentOf(group, knownName(group, known), names),
  }));
  const find = (holds: (group: Group) => boolean) =>
    named.find(({ group }) => holds(group))?.segment.name;
  return {
    segments: named.map(({ segment }) => segment),
    ofNetwork: (network) => find(({ networks }) => networks.has(network)),
    ofVlan: (vlan) => find(({ vlans }) => vlans.has(vlan)),
  };
}

function groupsOf(standings: readonly Standing[]): Group[] {
  const groups = new Set<Group>();
  for (const standing of standings) {
    const { vlan, network } = standing;
    const joined = [...groups].filter(
      (group) => group.networks.has(network) || (vlan !== undefined && group.vlans.has(vlan)),
    );
    const group: Group = {
      vlans: new Set([
        ...joined.flatMap(({ vlans }) => [...vlans]),
        ...(vlan === undefined ? [] : [vlan]),
      ]),
      networks: new Set([...joined.flatMap(({ networks }) => [...networks]), network]),
      members: [...joined.flatMap(({ members }) => members), standing],
    };
    for (const each of joined) groups.delete(each);
    groups.add(group);
  }
  return [...groups];
}

function keyOf({ vlans, networks }: Group): string {
  const [vlan] = [...vlans].sort((a, b) => a - b);
  return vlan === undefined ? `z ${sorted(networks)[0] ?? ''}` : `vlan ${vlan}`;
}

/** A group is the declared segment with its VLAN, else with one of its subnets. */
function knownName(group: Group, known: readonly KnownSegment[]): string | undefined {
  const byVlan = known.find(({ vlan }) => vlan !== undefined && group.vlans.has(vlan));
  const bySubnet = known.find(({ networks }) => networks.some((each) => group.networks.has(each)));
  return (byVlan ?? bySubnet)?.name;
}

function segmentOf(group: Group, known: string | undefined, names: NameGiver): DraftSegment {
  const [vlan, another] = [...group.vlans].sort((a, b) => a - b);
  const networks = sorted(group.networks);
  const sure = another === undefined ? vlan : undefined;
  const mtu = mtuOf(group);
  return {
    name: known ?? names.give(sure === undefined ? `net-${networks[0] ?? ''}` : `vlan-${sure}`),
    ...(sure === undefined ? {} : { vlan: sure }),
    ...('bytes' in mtu ? { mtuBytes: mtu.bytes } : {}),
    known: networks.join(', '),
    questions: [
      ...('question' in mtu ? [mtu.question] : []),
      ...(another === undefined
        ? []
        : [
            `vlan: ${[...group.vlans].sort((a, b) => a - b).join(' or ')}?  one subnet was seen in several`,
          ]),
    ],
  };
}

function mtuOf({ members }: Group): { readonly bytes: number } | { readonly question: string } {
  const byMtu = new Map<number, Set<string>>();
  for (const { machine, iface } of members) {
    const { mtuBytes } = iface.facts;
    if (mtuBytes === undefined) continue;
    byMtu.set(mtuBytes, (byMtu.get(mtuBytes) ?? new Set()).add(machine.name));
  }
  const candidates = [...byMtu].sort(([a], [b]) => a - b);
  const [only, more] = candidates;
  if (only === undefined) return { question: 'mtu: ?  no MTU was read in it' };
  const words = candidates.map(([bytes, at]) => `${bytes} (${someOf([...at])})`).join(' or ');
  if (more !== undefined) return { question: `mtu: ${words}?  one segment has one MTU` };
  if (only[1].size < agreeingMin)
    return { question: `mtu: ${words}?  only one node was read in it` };
  return { bytes: only[0] };
}

const shownMax = 4;

function someOf(names: readonly string[]): string {
  const shown = [...names].sort(byName).slice(0, shownMax);
  const left = names.length - shown.length;
  return `${shown.join(', ')}${left > 0 ? ` and ${left} more` : ''}`;
}

function sorted(networks: ReadonlySet<string>): string[] {
  return [...networks].sort(byName);
}
