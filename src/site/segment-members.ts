import { byName } from '../facts/order.ts';
import { portAddresses } from './addresses.ts';
import { stackAbove, stackBelow } from './layers.ts';
import type { NodeView } from './node-view.ts';
import { addressedAbove } from './path-stack.ts';
import { type LinkRef, type PortRef, portRef, type SiteIndex } from './site-index.ts';
import { taggingOn, tagsOn } from './tagging.ts';

/** What stands in a segment with an IP address, and what could not be asked whether it does. */
export interface SegmentMembers {
  readonly addressed: readonly PortRef[];
  /** Nodes with a link in it of which no address is known. */
  readonly unknown: readonly NodeView[];
  /** Declared ports of hosts that were read and do not have them. */
  readonly missing: readonly PortRef[];
}

/**
 * The members of every segment by the links that name it. What a segment wants is entered at
 * every port that its packets cross: the ports of its links, and the layers down from an address.
 */
export function findMembers(index: SiteIndex): Map<string, SegmentMembers> {
  const linksIn = new Map<string, LinkRef[]>(index.intent.segments.map(({ name }) => [name, []]));
  for (const link of index.links)
    for (const segment of link.segments) linksIn.get(segment)?.push(link);
  const members = new Map<string, SegmentMembers>();
  for (const { name } of index.intent.segments) {
    const addressed = new Set<PortRef>();
    const unknown = new Set<NodeView>();
    const missing = new Set<PortRef>();
    for (const link of linksIn.get(name) ?? [])
      for (const ref of link.ends)
        addEnd(index, { link, ref, segment: name }, { addressed, unknown, missing });
    members.set(name, {
      addressed: [...addressed].sort((a, b) => byName(a.id, b.id)),
      unknown: [...unknown].sort((a, b) => byName(a.declared.name, b.declared.name)),
      missing: [...missing].sort((a, b) => byName(a.id, b.id)),
    });
  }
  return members;
}

interface End {
  readonly link: LinkRef;
  readonly ref: PortRef;
  readonly segment: string;
}

interface Found {
  readonly addressed: Set<PortRef>;
  readonly unknown: Set<NodeView>;
  readonly missing: Set<PortRef>;
}

function addEnd(index: SiteIndex, end: End, { addressed, unknown, missing }: Found): void {
  const { link, ref, segment } = end;
  const { node } = ref;
  demand(index, ref, end);
  if (node.forwards || node.onWord) return;
  if (node.gap === undefined && ref.survey === undefined) {
    missing.add(ref);
    return;
  }
  const tagging = taggingOn(index, link, segment);
  const stack = stackAbove(node, ref.name, tagging);
  const names = ref.survey === undefined ? [] : addressedAbove(node, ref.name, tagging);
  const silent = stack.ends.some((layer) => portAddresses(node, layer.name) === undefined);
  if (names.length === 0 && (node.gap !== undefined || silent || stack.unsure)) unknown.add(node);
  for (const name of names) {
    const top = portRef(index.ports, node, name);
    top.addressed = true;
    addressed.add(top);
    for (const each of stackBelow(node, name))
      if (stack.heights.has(each)) demand(index, portRef(index.ports, node, each), end);
  }
}

function demand(index: SiteIndex, ref: PortRef, { link, segment }: End): void {
  const bytes = index.segments.get(segment)?.mtuBytes;
  if (bytes !== undefined) addDemand(ref, bytes, tagsOn(link, segment) ?? 0);
}

/** Enters what is wanted through a port, once. */
export function addDemand(ref: PortRef, bytes: number, tags: number): void {
  if (!ref.demands.some((each) => each.bytes === bytes && each.tags === tags))
    ref.demands.push({ bytes, tags });
}
