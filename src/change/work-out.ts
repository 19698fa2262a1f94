import { vlanTagBytes } from '../ethernet/frame-size.ts';
import { type MtuCounting, packetRange } from '../ethernet/mtu-clearance.ts';
import { byName } from '../facts/order.ts';
import type { Place } from '../facts/subject.ts';
import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import { counting } from '../site/clearance.ts';
import { findMembers } from '../site/segment-members.ts';
import { indexSite, type PortRef, portId, type SiteIndex } from '../site/site-index.ts';
import type { AskedSetting } from './asked.ts';
import { follows } from './layered-mtus.ts';

/** A port or node that does not carry what its segments declare, with the setting that it needs. */
export interface Needed extends AskedSetting {
  /** `node:port`; the node for one that nobody reads. */
  readonly id: string;
  readonly segment: string;
  /** What it is called where that tells why it was forgotten. */
  readonly role: string;
}

/**
 * Every setting that the ports of `segments` lack so that all of them carry what is declared, in
 * the order of their names: hosts to the very packet, since all that has an address in a segment
 * must agree; what passes frames on to at least that, since more does no harm there.
 */
export function workOut(intent: Intent, survey: Survey, segments: readonly string[]): Needed[] {
  const index = indexSite(intent, survey, { strict: false });
  const members = findMembers(index);
  const needed = new Map<string, Needed>();
  const add = (each: Needed) => {
    if (!needed.has(each.id)) needed.set(each.id, each);
  };
  for (const name of segments) {
    const segment = index.segments.get(name);
    if (segment?.mtuBytes === undefined) continue;
    const context = { index, segment: name, bytes: segment.mtuBytes, place: segment.place };
    const tops = members.get(name)?.addressed ?? [];
    for (const top of tops) for (const each of hostNeeds(top, context)) add(each);
    for (const link of index.links) {
      if (!link.segments.includes(name)) continue;
      for (const ref of link.ends)
        for (const each of passingNeeds(ref, link.declared.tagged.includes(name) ? 1 : 0, context))
          add(each);
    }
  }
  return [...needed.values()].sort((a, b) => byName(a.id, b.id));
}

interface Context {
  readonly index: SiteIndex;
  readonly segment: string;
  readonly bytes: number;
  readonly place: Place;
}

/** An interface with an address, and what it stands on. */
function hostNeeds(top: PortRef, context: Context): Needed[] {
  const { node } = top;
  const wanted = wantedBytes(top, context.bytes);
  const found: Needed[] = [];
  const seen = new Set<string>();
  const facts = (name: string) => node.ports.get(name)?.facts;
  const visit = (name: string, role: string) => {
    if (seen.has(name)) return;
    seen.add(name);
    const { mtuBytes, kind, lowerPorts = [] } = facts(name) ?? {};
    const small = mtuBytes !== undefined && mtuBytes < wanted;
    const [parent] = lowerPorts;
    if (kind === 'bond') {
      const anySmall = lowerPorts.some((each) => (facts(each)?.mtuBytes ?? wanted) < wanted);
      if (small) found.push(need(node, name, { role, wanted, context }));
      // What is set on the bond goes for its members.
      else if (anySmall)
        for (const each of lowerPorts) visit(each, `a member of the bond ${portId(node, name)}`);
      return;
    }
    if (kind === 'bridge') {
      for (const each of lowerPorts) visit(each, `a member of the bridge ${portId(node, name)}`);
      const goesAlong = follows(
        mtuBytes,
        lowerPorts.map((each) => facts(each)?.mtuBytes),
      );
      if (small && !goesAlong) found.push(need(node, name, { role, wanted, context }));
      return;
    }
    if (kind === 'vlan' && parent !== undefined)
      visit(parent, `what the VLAN interface ${portId(node, name)} stands on`);
    if (small) found.push(need(node, name, { role, wanted, context }));
  };
  visit(top.name, roleOfTop(top));
  const { mtuBytes } = facts(top.name) ?? {};
  if (mtuBytes !== undefined && mtuBytes > wanted)
    found.push(need(node, top.name, { role: roleOfTop(top), wanted, context }));
  return found;
}

/** The largest packet that any segment wants through a port. */
function wantedBytes({ demands }: PortRef, bytes: number): number {
  return Math.max(bytes, ...demands.map((each) => each.bytes));
}

function roleOfTop({ node, survey }: PortRef): string {
  if (node.declared.routes) return 'the port of a gateway';
  if (survey?.facts.kind === 'wireless') return 'a Wi-Fi port';
  return survey?.facts.kind === 'vlan' ? 'a VLAN interface' : 'an interface';
}

interface Wanted {
  readonly role: string;
  readonly wanted: number;
  readonly context: Context;
}

function need(node: PortRef['node'], name: string, { role, wanted, context }: Wanted): Needed {
  const id = portId(node, name);
  return {
    id,
    node: node.declared.name,
    port: id.slice(id.indexOf(':') + 1),
    setting: 'mtu',
    to: wanted,
    place: context.place,
    segment: context.segment,
    role,
  };
}

/** A port of what passes frames on; the aggregate above it where it is a member of one. */
function passingNeeds(ref: PortRef, tags: number, context: Context): Needed[] {
  const { node } = ref;
  if (!node.forwards) return [];
  const { frameBytes, name } = node.declared;
  if (node.onWord) {
    const frame = frameFor(context.bytes, 'header-fcs', tags);
    if (frameBytes === undefined || frameBytes >= frame) return [];
    const { place, segment } = context;
    const role = 'a node that nobody reads';
    return [{ id: name, node: name, setting: 'mtu', to: frame, place, segment, role }];
  }
  const mtuBytes = ref.survey?.facts.mtuBytes;
  if (mtuBytes === undefined) return [];
  const how = counting(ref);
  const range = packetRange(mtuBytes, how, tags);
  if (range.atLeastBytes >= context.bytes) return [];
  const aggregate = (node.uppers.get(ref.name) ?? []).find(
    (upper) => node.ports.get(upper)?.facts.kind === 'bond',
  );
  const wanted = frameFor(context.bytes, how, tags);
  const role = ref.ends.some(({ link }) => link.ends.every((end) => end.node.forwards))
    ? 'an uplink between switches'
    : 'a port of a switch';
  return [need(node, aggregate ?? ref.name, { role, wanted, context })];
}

/** The smallest number that a node may call its MTU so that `bytes` pass for certain. */
export function frameFor(bytes: number, how: MtuCounting, tags: number): number {
  const framingMax = 18 + vlanTagBytes * (Math.max(tags, 1) + 1);
  for (let mtu = bytes; mtu < bytes + framingMax; mtu += 1)
    if (packetRange(mtu, how, tags).atLeastBytes >= bytes) return mtu;
  return bytes + framingMax;
}
