import { byName } from '../facts/order.ts';
import { above, endText, endWords } from './ends.ts';
import type { Segments } from './find-segments.ts';
import { linkSpeed } from './link-speed.ts';
import { networkOf } from './network.ts';
import { pvidOf } from './standings.ts';
import type { DraftLink, End, FoundLink } from './types.ts';

/** Links as they will be written, with the segments that they carry and the aggregates they form. */
export function draftLinks(links: readonly FoundLink[], segments: Segments): readonly DraftLink[] {
  const lags = aggregatesOf(links);
  return links
    .map((link) => {
      const carried = carriedBy(link, segments);
      const speed = linkSpeed(link);
      const lag = lags.get(link);
      const [a, b] = link.ends;
      return {
        ends: [endText(a), endText(b)] as const,
        ...(carried.untagged === undefined ? {} : { untagged: carried.untagged }),
        tagged: carried.tagged,
        ...(speed.speedMbps === undefined ? {} : { speedMbps: speed.speedMbps }),
        ...(lag === undefined ? {} : { lag }),
        known: link.known,
        questions: [...carried.questions, ...speed.questions],
      };
    })
    .sort((a, b) => byName(a.ends.join(' '), b.ends.join(' ')));
}

interface Carried {
  readonly untagged?: string;
  readonly tagged: readonly string[];
  readonly questions: readonly string[];
}

/** Segments by what both ends say; where they contradict each other it is a question. */
function carriedBy({ ends }: FoundLink, segments: Segments): Carried {
  const plain = new Set(ends.flatMap((end) => untaggedAt(end, segments)));
  const [first, ...others] = plain;
  const lists = ends.flatMap((end) => taggedAt(end, segments) ?? []);
  const [one, two] = lists;
  const both = one !== undefined && two !== undefined;
  const all = both ? one.filter((name) => two.includes(name)) : (one ?? []);
  const untagged = others.length === 0 ? first : undefined;
  const tagged = [...new Set(all)].filter((name) => !plain.has(name)).sort(byName);
  return {
    ...(untagged === undefined ? {} : { untagged }),
    tagged,
    questions:
      others.length === 0
        ? []
        : [
            `untagged: ${[...plain].join(' or ')}?  ${endWords(ends[0])} and ${endWords(ends[1])} disagree`,
          ],
  };
}

/** Of a switch the VLAN of frames without a tag, of a host the subnets of what stands on the port. */
function untaggedAt(end: End, segments: Segments): readonly string[] {
  const vlan = pvidOf(end);
  const named = vlan === undefined ? undefined : segments.ofVlan(vlan);
  if (named !== undefined) return [named];
  return interfacesOn(end)
    .filter((each) => each.vlan === undefined)
    .flatMap(({ iface }) => iface.facts.addresses ?? [])
    .flatMap((address) => segments.ofNetwork(networkOf(address) ?? '') ?? []);
}

/** Undefined where the end says nothing of tags. */
function taggedAt(end: End, segments: Segments): readonly (readonly string[])[] | undefined {
  const { machine, port } = end;
  const upper =
    port.facts.aggregate === undefined ? undefined : machine.ports.get(port.facts.aggregate);
  const vlans = port.facts.taggedVlans ?? upper?.facts.taggedVlans;
  const above = interfacesOn(end).flatMap(({ vlan }) => vlan ?? []);
  if (vlans === undefined && machine.isSwitch) return undefined;
  if (vlans === undefined && above.length === 0) return undefined;
  return [(vlans ?? above).flatMap((vlan) => segments.ofVlan(vlan) ?? [])];
}

function interfacesOn({ machine, port }: End): ReturnType<typeof above> {
  return above(machine, port);
}

/** Links whose ends are members of one aggregate of a machine; one link alone is none. */
function aggregatesOf(links: readonly FoundLink[]): ReadonlyMap<FoundLink, string> {
  const members = new Map<string, Set<FoundLink>>();
  for (const link of links) {
    for (const end of link.ends) {
      const name = aggregateOf(end);
      if (name !== undefined) members.set(name, (members.get(name) ?? new Set()).add(link));
    }
  }
  const named = new Map<FoundLink, string>();
  for (const [name, found] of [...members].sort(([a], [b]) => byName(a, b))) {
    const free = [...found].filter((link) => !named.has(link));
    if (free.length < 2) continue;
    for (const link of free) named.set(link, name);
  }
  return named;
}

/** Hosts come first in the order of names where both ends have one, since people name it there. */
function aggregateOf({ machine, port }: End): string | undefined {
  const upper = (machine.uppers.get(port.name) ?? []).find(
    (name) => machine.ports.get(name)?.facts.kind === 'bond',
  );
  const name = port.facts.aggregate ?? upper;
  if (name === undefined) return undefined;
  return `${machine.name}-${name.replace(/[^A-Za-z0-9._-]+/g, '-')}`.slice(0, 64);
}
