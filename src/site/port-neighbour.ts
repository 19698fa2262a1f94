import type { Gap } from '../facts/gap.ts';
import { bottomPorts } from './aggregates.ts';
import { type FarEnd, farEndOf, isElsewhere } from './far-end.ts';
import { farNode, type Hearing, hear } from './hearing.ts';
import { movedLinks } from './moves.ts';
import type { NodeView } from './node-view.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { PortRef, SiteIndex } from './site-index.ts';

/** What was heard on the site, with what follows from it for each end of a link. */
export interface Company {
  readonly hearing: Hearing;
  readonly farEnds: ReadonlyMap<PortRef, FarEnd>;
  /** As `movedLinks` gives it. */
  readonly moved: ReadonlyMap<string, string>;
}

/** Works out who is at the other end of every link. */
export function companyOf(index: SiteIndex): Company {
  const hearing = hear(index);
  const farEnds = new Map<PortRef, FarEnd>();
  for (const { ends } of index.links) {
    for (const ref of ends) {
      const farEnd = farEndOf(index, hearing, ref);
      if (farEnd !== undefined) farEnds.set(ref, farEnd);
    }
  }
  return { hearing, farEnds, moved: movedLinks(index, farEnds) };
}

const neighbourFacts = ['neighbour', 'neighbourDeclared'] as const;

/** Enters who is at the other end of a port's link, and how many stand behind it. */
export function putNeighbour(draft: Draft, ref: PortRef, company: Company): void {
  const farEnd = company.farEnds.get(ref);
  const far = farNode(ref);
  if (far === undefined) return;
  put(draft, 'farNode', far.declared.name);
  putStations(draft, ref, company.hearing);
  if (farEnd === undefined) {
    const gap = unheardGap(ref.node);
    for (const name of neighbourFacts) put(draft, name, undefined, gap);
    return;
  }
  const gap = farEnd.knownBy === undefined ? unheardGap(ref.node) : undefined;
  put(draft, 'neighbour', farEnd.heardAs, gap);
  put(draft, 'neighbourDeclared', farEnd.declared, gap);
  put(draft, 'neighbourKnownBy', farEnd.knownBy);
  if (farEnd.between.length > 0) put(draft, 'between', farEnd.between);
  else if (farEnd.declared === true) put(draft, 'between', []);
  if (farEnd.foundOn.length > 0) put(draft, 'foundOn', farEnd.foundOn);
  put(draft, 'farEndElsewhere', isElsewhere(ref, farEnd));
  put(draft, 'movedLink', company.moved.get(ref.id));
  putSaid(draft, farEnd);
  const source = farEnd.knownBy === undefined ? undefined : sourceOf[farEnd.knownBy];
  if (source !== undefined)
    for (const name of ['neighbour', 'neighbourDeclared']) draft.sources[name] = source;
}

const sourceOf = {
  lldp: 'LLDP (IEEE 802.1AB)',
  forwarding: 'forwarding table of the node (IEEE 802.1Q)',
} as const;

function putSaid(draft: Draft, { neighbour, declared }: FarEnd): void {
  if (neighbour === undefined || declared === false) return;
  const { speedMbps, duplex, frameMaxBytes, autoNegotiation, untaggedVlan } = neighbour.reading;
  put(draft, 'neighbourSpeedMbps', speedMbps);
  put(draft, 'neighbourDuplex', duplex);
  put(draft, 'neighbourFrameBytes', frameMaxBytes);
  put(draft, 'neighbourAutoNegotiation', autoNegotiation);
  put(draft, 'neighbourUntaggedVlan', untaggedVlan);
}

/**
 * Why nothing was heard, where a switch has tables and did not give them whole. One that has none,
 * and a host without a daemon, are expected to say nothing.
 */
function unheardGap(node: NodeView): Gap | undefined {
  if (node.onWord) return undefined;
  if (node.gap !== undefined) return node.gap.reason === 'unasked' ? undefined : node.gap;
  const { name } = node.declared;
  for (const table of node.forwards ? (['neighbours', 'forwarding'] as const) : []) {
    const gap = node.survey?.gaps[table];
    if (gap === undefined || gap.reason === 'unsupported' || gap.reason === 'unasked') continue;
    return gapOf(gap.reason, gap.words, gap.cause ?? `${table} of ${name}`);
  }
  return undefined;
}

/** A telephone has a port for a computer, and speaks in two networks (common practice). */
const stationsBehind: Readonly<Record<string, number>> = { phone: 3 };

function putStations(draft: Draft, ref: PortRef, hearing: Hearing): void {
  const far = farNode(ref);
  if (far === undefined || far.forwards || !ref.node.forwards) return;
  const { name, ports } = ref.node.declared;
  const behind = ports.find(({ alias }) => ref.id === `${name}:${alias}`)?.behind;
  const atMost = behind ?? stationsBehind[far.declared.unread ?? ''] ?? 1;
  put(draft, 'behindAtMost', atMost);
  const { gap, survey } = ref.node;
  if (gap !== undefined || survey?.forwarding === undefined) {
    put(draft, 'macsBehind', undefined, unheardGap(ref.node));
    return;
  }
  if (ref.survey === undefined || !bottomPorts(ref.node, ref.name).includes(ref.name)) return;
  const own = new Set<string>();
  const others = new Set<string>();
  for (const mac of hearing.at(ref.node, ref.name).macs)
    (hearing.stations.byMac(mac)?.node === far ? own : others).add(mac);
  // The ports of one node are one station.
  const count = others.size + Math.min(1, own.size);
  // More may stand behind it than a table that was cut short tells; too many are too many.
  const cut = survey.gaps['forwarding'];
  if (cut?.reason === 'truncated' && count <= atMost) {
    put(draft, 'macsBehind', undefined, gapOf(cut.reason, cut.words, `forwarding of ${name}`));
    return;
  }
  put(draft, 'macsBehind', count);
  draft.sources['macsBehind'] = sourceOf.forwarding;
}
