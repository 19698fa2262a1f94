import type { Gap } from '../facts/gap.ts';
import { byName } from '../facts/order.ts';
import type { Subject } from '../facts/subject.ts';
import { type ClearanceOf, counting, unreadGap } from './clearance.ts';
import { labelsFrom } from './labels.ts';
import { isLayer, stackBelow } from './layers.ts';
import { putMember } from './link-aggregate.ts';
import { cutList, missingPort, nearestName } from './missing-port.ts';
import type { NodeView } from './node-view.ts';
import { carriesAll } from './port-carries.ts';
import { isVirtual } from './port-kind.ts';
import { putName } from './port-name.ts';
import { type Company, putNeighbour } from './port-neighbour.ts';
import { putPacket } from './port-packet.ts';
import { putPhysics } from './port-physics.ts';
import { putVlans } from './port-vlans.ts';
import { type Draft, gapOf, newDraft, ownProvenance, portReadGaps, put } from './provenance.ts';
import { type PortRef, portId, type SiteIndex } from './site-index.ts';
import { putSpanningTree } from './spanning-tree.ts';
import type { SitePort } from './types.ts';
import { putUnread, unreadEvidence } from './unread-evidence.ts';
import { versionAtLeast } from './version-at-least.ts';

/** What is worked out for all ports together. */
export interface PortContext {
  readonly clearanceOf: ClearanceOf;
  readonly company: Company;
}

/** A port with everything that intent and survey together say of it. */
export function sitePort(index: SiteIndex, ref: PortRef, known: PortContext): SitePort {
  const { clearanceOf, company } = known;
  const draft = newDraft();
  Object.assign(draft.facts, ref.survey?.facts);
  Object.assign(draft.sources, ref.survey?.sources);
  Object.assign(draft.gaps, ref.survey?.gaps);
  putIdentity(draft, ref);
  putDeclared(draft, ref);
  if (ref.survey !== undefined) {
    putHardware(draft, ref);
    putStack(draft, index, ref);
  }
  putName(draft, ref);
  putDriver(draft, ref);
  const bytes = ref.demands.length === 0 ? undefined : Math.max(...ref.demands.map((d) => d.bytes));
  putPhysics(draft, ref);
  putPacket(draft, ref, bytes);
  putNeighbour(draft, ref, company);
  putVlans(draft, index, ref);
  putSpanningTree(draft, ref);
  putMember(draft, ref);
  putUnread(draft, unreadEvidence(index, company, ref), farPortId(ref));
  putClearance(draft, ref, { bytes, clearanceOf });
  const place = ref.ends[0]?.link.declared.ends[ref.ends[0].side].place;
  const subject: Subject = {
    kind: 'port',
    id: ref.id,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: ref.node.portProvenance,
    ...(place === undefined ? {} : { place }),
  };
  const survey = ref.survey === undefined ? {} : { survey: ref.survey };
  return { id: ref.id, node: ref.node.declared.name, ...survey, subject };
}

function farPortId({ ends }: PortRef): string | undefined {
  const [end] = ends;
  return end?.link.ends[end.side === 0 ? 1 : 0].id;
}

function putIdentity(draft: Draft, ref: PortRef): void {
  const { node, survey } = ref;
  const gap = node.onWord ? undefined : node.gap;
  put(draft, 'id', ref.id);
  put(draft, 'node', node.declared.name);
  put(draft, 'name', ref.nameless ? undefined : ref.name, gap);
  put(draft, 'unread', node.declared.unread !== undefined);
  put(draft, 'onSwitch', node.forwards);
  put(draft, 'mayBeDown', [node, ...ref.ends.map(farNode)].some(mayBeAway));
  const hole = gap ?? cutList(ref);
  put(draft, 'found', (node.gap ?? hole) ? undefined : survey !== undefined, hole);
  if (node.gap !== undefined) {
    for (const name of readGaps) put(draft, name, undefined, gap);
  } else if (survey === undefined) {
    const missing = missingPort(ref);
    Object.assign(draft.gaps, portReadGaps(missing));
    for (const name of readGaps) put(draft, name, undefined, missing);
    if (hole === undefined) put(draft, 'nearestName', nearestName(ref));
  }
}

/** Derived facts that need a reading of the port itself. */
const readGaps = ['virtual', 'addressed', 'wireless'] as const;

function farNode({ link, side }: PortRef['ends'][number]): NodeView {
  return link.ends[side === 0 ? 1 : 0].node;
}

function mayBeAway({ declared, read }: NodeView): boolean {
  return (declared.sleeps || declared.mayBeAbsent) && !read;
}

function putDeclared(draft: Draft, ref: PortRef): void {
  const { ends } = ref;
  const end = ends[0];
  put(draft, 'linked', end !== undefined);
  const segments = new Set(ends.flatMap(({ link }) => link.segments));
  put(draft, 'segments', [...segments].sort(byName));
  if (end === undefined) return;
  const { declared } = end.link;
  put(draft, 'linkId', declared.id);
  put(draft, 'farPort', farPortId(ref));
  put(draft, 'labels', labelsFrom(declared.run, end.side));
  put(draft, 'declaredSpeedMbps', declared.speedMbps);
  put(draft, 'declaredDuplex', declared.duplex);
  if (segments.size > 0)
    put(draft, 'tags', ends.some(({ link }) => link.declared.tagged.length > 0) ? 1 : 0);
}

function putDriver(draft: Draft, ref: PortRef): void {
  const { aliases } = ref.node;
  const wanted = aliases.declared.get(aliases.ofName.get(ref.name) ?? '')?.driverAtLeast;
  if (wanted === undefined) return;
  put(draft, 'declaredDriverAtLeast', wanted);
  const version = ref.survey?.facts.driverVersion;
  const recent = version === undefined ? undefined : versionAtLeast(version, wanted);
  if (typeof recent === 'boolean') put(draft, 'driverRecentEnough', recent);
  else put(draft, 'driverRecentEnough', undefined, recent ?? driverGap(ref));
}

function driverGap(ref: PortRef): Gap {
  const missing = ref.node.gap ?? (ref.survey === undefined ? missingPort(ref) : undefined);
  if (missing !== undefined) return missing;
  return unreadGap(ref, 'driverVersion');
}

function putHardware(draft: Draft, ref: PortRef): void {
  const facts = ref.survey?.facts ?? {};
  const virtual = isVirtual(facts);
  put(draft, 'virtual', virtual, unreadGap(ref, 'kind'));
  // What forwards frames is no end of them, whether its addresses were read or not.
  const told = facts.addresses !== undefined || ref.addressed || ref.node.forwards;
  const addressed = told ? ref.addressed : undefined;
  put(draft, 'addressed', addressed, unreadGap(ref, 'addresses'));
  const speed = facts.speedMbps ?? 0;
  if (facts.duplex !== undefined || facts.operUp !== true || virtual !== false) return;
  // Wireless links take turns, whatever their speed.
  if (speed < 1000 || facts.kind !== 'physical') return;
  draft.facts['duplex'] = 'full';
  draft.sources['duplex'] =
    speed > 1000
      ? 'IEEE 802.3: above 1000 Mb/s there is no half duplex'
      : 'common practice: half duplex is not built at 1000 Mb/s';
}

function putStack(draft: Draft, index: SiteIndex, ref: PortRef): void {
  const lower = ref.survey?.facts.lowerPorts ?? [];
  if (lower.length === 0) return;
  const { node } = ref;
  // What else a bridge joins is no layer that its packets stand on: see `smallMembers`.
  const names = stackBelow(node, ref.name).filter(
    (name) => name === ref.name || isLayer(node, name),
  );
  const layers = names.map((name) => ({
    name,
    mtuBytes: node.ports.get(name)?.facts.mtuBytes,
  }));
  const unknown = layers.find((layer) => layer.mtuBytes === undefined);
  const gap =
    unknown && gapOf('unreadable', `the MTU of ${portId(node, unknown.name)} is not known`);
  const sizes = layers.map((layer) => layer.mtuBytes ?? 0);
  const least = layers[sizes.indexOf(Math.min(...sizes))];
  put(draft, 'smallestLayer', gap ? undefined : portId(node, least?.name ?? ref.name), gap);
  put(draft, 'smallestLayerMtuBytes', gap ? undefined : least?.mtuBytes, gap);
  if (ref.survey?.facts.kind === 'bond') putMembers(draft, index, node, lower);
}

function putMembers(
  draft: Draft,
  index: SiteIndex,
  node: NodeView,
  members: readonly string[],
): void {
  const unknown = members.find((name) => node.ports.get(name)?.facts.operUp === undefined);
  const gap: Gap | undefined =
    unknown === undefined
      ? undefined
      : gapOf('unreadable', `whether ${portId(node, unknown)} is up is not known`);
  const down = members.filter((name) => node.ports.get(name)?.facts.operUp === false);
  const ids = down.map((name) => portId(node, name)).sort(byName);
  put(draft, 'membersDownPorts', gap ? undefined : ids, gap);
  const link = index.ports.get(ids[0] ?? '')?.ends[0]?.link.declared.id;
  put(draft, 'membersDownLink', gap ? undefined : link, gap);
}

function putClearance(
  draft: Draft,
  ref: PortRef,
  { bytes, clearanceOf }: { readonly bytes: number | undefined; readonly clearanceOf: ClearanceOf },
): void {
  const linkTags = ref.ends.some(({ link }) => link.declared.tagged.length > 0) ? 1 : 0;
  const clearance = clearanceOf(ref, { bytes, tags: linkTags });
  const gap = clearance.onWord ? undefined : clearance.gap;
  put(draft, 'declaredMtuBytes', bytes);
  put(draft, 'passesAtLeastBytes', clearance.atLeastBytes, gap);
  put(draft, 'passesAtMostBytes', clearance.atMostBytes, gap);
  if (gap?.reason === 'doubtful' && ref.survey?.facts.mtuBytes !== undefined) {
    delete draft.facts['mtuBytes'];
    put(draft, 'mtuBytes', undefined, gap);
  }
  if (clearance.atMostBytes !== undefined) {
    const word = clearance.onWord ? "the intent, on the owner's word" : accounting[counting(ref)];
    const source = clearance.source ?? word;
    draft.sources['passesAtLeastBytes'] = source;
    draft.sources['passesAtMostBytes'] = source;
  }
  if (bytes === undefined) return;
  const carries = carriesAll(ref, clearanceOf);
  if (typeof carries === 'boolean') put(draft, 'carriesDeclaredMtu', carries);
  else put(draft, 'carriesDeclaredMtu', undefined, clearance.onWord ? undefined : carries);
}

/** What was taken for granted of the number, said beside what follows from it. */
const accounting = {
  payload: 'port.mtuBytes, which counts the IP packet',
  header: 'port.mtuBytes, which counts the header as well',
  'header-fcs': 'port.mtuBytes, which counts header and FCS as well',
  'header-fcs-tag': 'port.mtuBytes, which counts header, FCS and a tag as well',
  unknown: 'port.mtuBytes, of which it is not known what it counts',
} as const;
