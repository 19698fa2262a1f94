import { aggregateOf } from './aggregates.ts';
import { farNode } from './hearing.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { LinkRef, PortRef, SiteIndex } from './site-index.ts';

/** VLAN that ports are in unless somebody takes them out (IEEE 802.1Q 9.6: default PVID). */
const defaultVlan = 1;

interface Membership {
  readonly pvid: number | undefined;
  readonly untagged: readonly number[];
  readonly tagged: readonly number[];
}

/** Enters which VLANs a port of a switch lacks or has too many, where the intent numbers them. */
export function putVlans(draft: Draft, index: SiteIndex, ref: PortRef): void {
  const link = ref.ends[0]?.link;
  if (link === undefined || !ref.node.forwards || ref.survey === undefined) return;
  const wanted = wantedOf(index, link);
  if (wanted === undefined) return;
  const read = membershipOf(ref);
  if (read === undefined) {
    const gap = ref.survey.gaps?.['taggedVlans'] ?? ref.node.portProvenance.gaps['taggedVlans'];
    const expected = gap !== undefined && !['unsupported', 'unasked'].includes(gap.reason);
    if (expected) put(draft, 'vlansAsDeclared', undefined, gapOf(gap.reason, gap.words, gap.cause));
    return;
  }
  const missing = missingVlans(wanted, read);
  const unexpected = unexpectedVlans(index, ref, { wanted, read });
  put(draft, 'vlansMissing', missing);
  put(draft, 'vlansUnexpected', unexpected);
  put(draft, 'vlansAsDeclared', missing.length === 0 && unexpected.length === 0);
}

/** VLANs that a link declares at a port and that the port does not carry; undefined: not known. */
export function vlansMissingAt(index: SiteIndex, ref: PortRef): readonly number[] | undefined {
  const link = ref.ends[0]?.link;
  if (link === undefined || !ref.node.forwards || ref.survey === undefined) return undefined;
  const wanted = wantedOf(index, link);
  const read = membershipOf(ref);
  return wanted === undefined || read === undefined ? undefined : missingVlans(wanted, read);
}

interface Wanted {
  readonly untagged: number | undefined;
  readonly tagged: readonly number[];
}

/** Undefined where the link names no segment, or one that has no number. */
function wantedOf(index: SiteIndex, { declared }: LinkRef): Wanted | undefined {
  const vlanOf = (segment: string) => index.segments.get(segment)?.vlan;
  const untagged = declared.untagged === undefined ? undefined : vlanOf(declared.untagged);
  if (declared.untagged !== undefined && untagged === undefined) return undefined;
  const tagged = declared.tagged.flatMap((segment) => vlanOf(segment) ?? []);
  if (tagged.length < declared.tagged.length) return undefined;
  return untagged === undefined && tagged.length === 0 ? undefined : { untagged, tagged };
}

/** Membership is that of the aggregate where the port is a member of one. */
function membershipOf(ref: PortRef): Membership | undefined {
  const of = [aggregateOf(ref.node, ref.name)?.facts, ref.survey?.facts];
  for (const facts of of) {
    const { untaggedVlan, untaggedVlans, taggedVlans } = facts ?? {};
    if (untaggedVlans === undefined && taggedVlans === undefined) continue;
    return { pvid: untaggedVlan, untagged: untaggedVlans ?? [], tagged: taggedVlans ?? [] };
  }
  return undefined;
}

function missingVlans({ untagged, tagged }: Wanted, read: Membership): number[] {
  const out = untagged === undefined || read.untagged.includes(untagged);
  const back = read.pvid === undefined || read.pvid === untagged;
  const lost = untagged !== undefined && !(out && back) ? [untagged] : [];
  return inOrder([...lost, ...tagged.filter((vlan) => !read.tagged.includes(vlan))]);
}

/**
 * Untagged frames of another VLAN than declared, except those of the default one on a trunk; and at
 * a port to a host the tagged VLANs of other segments of the intent. A trunk between switches may
 * carry more than the intent speaks of.
 */
function unexpectedVlans(
  index: SiteIndex,
  ref: PortRef,
  { wanted, read }: { readonly wanted: Wanted; readonly read: Membership },
): number[] {
  const known = new Set(index.intent.segments.flatMap(({ vlan }) => vlan ?? []));
  const { untagged: own } = wanted;
  const declared = new Set([...wanted.tagged, ...(own === undefined ? [] : [own])]);
  const spare = own === undefined ? defaultVlan : undefined;
  const untagged = [...read.untagged, ...(read.pvid === undefined ? [] : [read.pvid])].filter(
    (vlan) => vlan !== own && vlan !== spare,
  );
  const edge = farNode(ref)?.forwards !== true;
  const tagged = read.tagged.filter((vlan) => edge && known.has(vlan) && !declared.has(vlan));
  return inOrder([...untagged, ...tagged]);
}

function inOrder(vlans: readonly number[]): number[] {
  return [...new Set(vlans)].sort((a, b) => a - b);
}
