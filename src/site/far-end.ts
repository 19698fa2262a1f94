import { byName } from '../facts/order.ts';
import { farNode, type Hearing, type PortHearing, type Sighting } from './hearing.ts';
import { stackBelow } from './layers.ts';
import type { NodeView } from './node-view.ts';
import type { Heard } from './recognise.ts';
import { sameName } from './same-name.ts';
import { type PortRef, portId, type SiteIndex } from './site-index.ts';
import type { Station } from './stations.ts';

/** Who is at the other end of a port's link, as far as anything tells. */
export interface FarEnd {
  /** The neighbour that speaks for the far end; absent where none does. */
  readonly neighbour?: Heard;
  /** The declared port or node that is there, else what it calls itself. */
  readonly heardAs?: string;
  readonly knownBy?: 'lldp' | 'forwarding';
  /** It is the declared far end; absent: nothing tells. */
  readonly declared?: boolean;
  /** What announces itself between this port and the far end that was heard behind it. */
  readonly between: readonly string[];
  /** Ports at which the declared far end is heard, in order. */
  readonly foundOn: readonly string[];
}

interface Asked {
  readonly index: SiteIndex;
  readonly hearing: Hearing;
  readonly ref: PortRef;
  /** The declared far port. */
  readonly far: PortRef;
  readonly heard: PortHearing;
}

type Verdict = Omit<FarEnd, 'foundOn' | 'between'> & { readonly between?: readonly string[] };

/** Compares what is heard at a port with what the intent declares there. */
export function farEndOf(index: SiteIndex, hearing: Hearing, ref: PortRef): FarEnd | undefined {
  const [end] = ref.ends;
  if (end === undefined || ref.node.gap !== undefined || ref.survey === undefined) return undefined;
  const far = end.link.ends[end.side === 0 ? 1 : 0];
  const asked = { index, hearing, ref, far, heard: hearing.at(ref.node, ref.name) };
  const verdict = byAnnouncement(asked) ?? byStations(asked) ?? byElimination(asked) ?? {};
  const foundOn = placesOf(asked);
  return { ...verdict, foundOn, between: verdict.between ?? [] };
}

/** LLDP names its sender, so that it goes before any table of addresses. */
function byAnnouncement(asked: Asked): Verdict | undefined {
  const { index, ref, far, heard } = asked;
  const recognised = heard.neighbours.filter(({ station }) => station !== undefined);
  const own = recognised.filter(({ station }) => station?.node === far.node);
  const same = own.find(({ station }) => isPort(station, far)) ?? own.find(portUnknown);
  const [neighbour = same] = own;
  if (neighbour?.station !== undefined) {
    const declared = same !== undefined || isLost(far);
    return said(same ?? neighbour, declared, far);
  }
  // On a large site the way behind a port is long: it is gone only where somebody was heard.
  if (recognised.length === 0) return undefined;
  const beyond = nodesBeyond(index, ref, far.node);
  const stranger = recognised.find(({ station }) => station && !beyond.has(station.node));
  if (stranger !== undefined) return said(stranger, false, far);
  const [through] = recognised;
  // Only what nobody reads can be expected to pass on the announcements of others.
  if (through !== undefined && far.node.onWord) return said(through, true, far);
  return undefined;
}

function said(neighbour: Heard, declared: boolean, far: PortRef): Verdict {
  const { station, words } = neighbour;
  const heardAs = declared && station?.node === far.node ? far.id : nameOf(station, words);
  return { neighbour, heardAs, knownBy: 'lldp', declared };
}

function nameOf(station: Station | undefined, words: string): string {
  return station === undefined ? words : (station.port ?? station.node.declared.name);
}

/** A declared port that its node does not have is another finding. */
function isLost(far: PortRef): boolean {
  return far.node.gap === undefined && far.survey === undefined;
}

function portUnknown({ station }: Heard): boolean {
  return station?.port === undefined;
}

/** The port itself, or what is built on it: a host may announce its bridge or bond. */
function isPort(station: Station | undefined, far: PortRef): boolean {
  if (station?.port === undefined) return false;
  if (station.port === far.id) return true;
  const { node, name } = far;
  const built = [...node.ports.keys()].find((each) => portId(node, each) === station.port);
  return built !== undefined && built !== name && stackBelow(node, built).includes(name);
}

/** Nodes that the intent puts behind `first`, seen from `ref`: others may be heard through it. */
function nodesBeyond(index: SiteIndex, ref: PortRef, first: NodeView): ReadonlySet<NodeView> {
  const beyond = new Set([first]);
  for (const node of beyond) {
    if (!node.forwards && node.declared.unread === undefined && node !== first) continue;
    for (const link of index.linksOf.get(node.declared.name) ?? [])
      for (const end of link.ends) if (end.node !== ref.node) beyond.add(end.node);
  }
  return beyond;
}

/** Stations tell of a far end that passes no frames on: it alone should be behind the port. */
function byStations(asked: Asked): Verdict | undefined {
  const { index, ref, far, heard, hearing } = asked;
  if (far.node.forwards || heard.macs.size === 0) return undefined;
  const stations = [...heard.macs].flatMap((mac) => hearing.stations.byMac(mac) ?? []);
  const neighbours = heard.neighbours.filter(({ station }) => station === undefined);
  if (stations.some((station) => isAtPort(station, far))) {
    const between = neighbours.filter(standsBetween).map(({ words }) => words);
    return { heardAs: far.id, knownBy: 'forwarding', declared: true, between };
  }
  const beyond = nodesBeyond(index, ref, far.node);
  const strangers = stations
    .filter((station) => !beyond.has(station.node) && isExpectedElsewhere(index, station, ref))
    .sort((a, b) => byName(nameOf(a, ''), nameOf(b, '')));
  const [stranger] = strangers;
  if (stranger === undefined) return undefined;
  return { heardAs: nameOf(stranger, ''), knownBy: 'forwarding', declared: false };
}

/** Any port of the far node will do where it cannot be told which: members of a bond share one. */
function isAtPort(station: Station, far: PortRef): boolean {
  if (station.node !== far.node) return false;
  return station.port === undefined || isPort(station, far) || isLost(far);
}

function isExpectedElsewhere(index: SiteIndex, { node, port }: Station, here: PortRef): boolean {
  const links = index.linksOf.get(node.declared.name) ?? [];
  const ends = links.filter((link) => !link.ends.includes(here)).flatMap((link) => link.ends);
  return ends.some((end) => end.node === node && (port === undefined || end.id === port));
}

/** Firmware of adapters announces itself as well: only what passes frames on stands between. */
function standsBetween({ reading: { capabilities } }: Heard): boolean {
  return capabilities.some((word) => passing.has(word));
}

const passing: ReadonlySet<string> = new Set([
  'bridge',
  'telephone',
  'wlan-access-point',
  'router',
]);

/** Nothing that is declared was heard; what was heard may still not be the declared far end. */
function byElimination(asked: Asked): Verdict | undefined {
  const [neighbour] = asked.heard.neighbours.filter(({ station }) => station === undefined);
  if (neighbour !== undefined) {
    const { words } = neighbour;
    const other = isOther(asked.far.node, neighbour);
    const verdict = other ? { declared: false } : {};
    return { neighbour, heardAs: words, knownBy: 'lldp', ...verdict };
  }
  const mac = onlyOtherMac(asked);
  if (mac === undefined) return undefined;
  return { heardAs: mac, knownBy: 'forwarding', declared: false };
}

/** Kinds of unread node that pass nothing on and are no telephone. */
const leaves: ReadonlySet<string> = new Set(['printer', 'camera']);

function isOther(node: NodeView, { reading, doubtful }: Heard): boolean {
  if (doubtful) return false;
  const { unread = '', identity } = node.declared;
  const { systemName } = reading;
  const own = identity.systemName ?? (node.gap ? undefined : node.survey?.facts.systemName);
  if (own !== undefined && systemName !== undefined)
    // A switch that does not speak LLDP itself may pass on what others announce.
    return !sameName(own, systemName) && (!node.forwards || node.survey?.neighbours !== undefined);
  return leaves.has(unread) && reading.capabilities.some((word) => passing.has(word));
}

/** The one station behind the port of an unread node whose MAC address is declared as another. */
function onlyOtherMac({ far, heard }: Asked): string | undefined {
  const { node } = far;
  const wanted = node.declared.ports.some(({ mac }) => mac !== undefined);
  if (!wanted || node.forwards || !node.onWord || node.declared.unread === 'phone')
    return undefined;
  const [mac, more] = heard.macs;
  return more === undefined ? mac : undefined;
}

/** Where the far end is heard, leaving out what tells of its other ports. */
function placesOf({ index, hearing, ref, far }: Asked): string[] {
  const sightings = hearing
    .sightings(far.node.declared.name)
    .filter(({ station }) => tellsOf(index, station, far));
  const heardHere = (sighting: Sighting) => sighting.ports.includes(ref.id);
  const passesBy = sightings.some(({ by, ports }) => by === ref.node && !ports.includes(ref.id));
  const places = sightings.filter((sighting) => {
    const { kind, by } = sighting;
    if (kind === 'spare') return by === ref.node || passesBy;
    return kind !== 'passing' || heardHere(sighting);
  });
  const found = places.flatMap((place) => (heardHere(place) ? [ref.id] : place.ports));
  return [...new Set(found)].sort(byName);
}

/** A node that is recognised without its port tells of its one link, where it can have no other. */
function tellsOf(index: SiteIndex, { node, port }: Station, far: PortRef): boolean {
  if (port !== undefined) return port === far.id;
  const links = index.linksOf.get(node.declared.name) ?? [];
  const live = [...node.ports.values()].filter(
    ({ facts }) => facts.kind === 'physical' && facts.operUp !== false,
  );
  return links.length === 1 && live.length <= 1;
}

/** The declared far node is heard, and only elsewhere; undefined: it is heard nowhere. */
export function isElsewhere(ref: PortRef, { foundOn }: FarEnd): boolean | undefined {
  if (foundOn.length === 0 || farNode(ref) === undefined) return undefined;
  return !foundOn.includes(ref.id);
}
