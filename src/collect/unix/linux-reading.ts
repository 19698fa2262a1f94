import type { Gap, Gaps } from '../../facts/gap.ts';
import type { NodeReading } from '../types.ts';
import { cleaned, type PortDraft } from './draft.ts';
import { type Framed, type Section, sectionKey } from './frames.ts';
import { parseIpAddrJson } from './ip-addr-json.ts';
import type { IpLink } from './ip-link.ts';
import { parseIpLinkJson } from './ip-link-json.ts';
import { parseIpAddrText, parseIpLinkText } from './ip-text.ts';
import {
  driverOf,
  ethtoolOf,
  isGap,
  type LinuxEvidence,
  lineEvidence,
  missing,
  refusal,
  sysfsOf,
} from './linux-evidence.ts';
import { linuxPort } from './linux-port.ts';
import { parseProcMounts } from './mounts.ts';
import { nodeFactsOf } from './node-reading.ts';
import { parseLinuxRoute } from './route-linux.ts';
import { linuxRouteTable } from './route-table-linux.ts';
import { shareProvenance } from './share-provenance.ts';
import { parseSsSessions } from './ss-sessions.ts';
import type { Sysfs } from './sysfs.ts';

/** Ports of one node that are kept. */
const portsMax = 4096;

/** The reading of a Linux host; undefined where the list of its ports is not whole. */
export function linuxReading(framed: Framed): NodeReading | undefined {
  const links = linksOf(framed);
  const names = links === undefined ? sysfsNames(framed) : links.map((link) => link.name);
  if (names === undefined) return undefined;
  const evidence = evidenceOf(framed, links, names.slice(0, portsMax));
  const sessions = framed.sections.get(sectionKey('sessions'));
  const mounts = framed.sections.get(sectionKey('mounts'));
  const node = nodeFactsOf(framed);
  const routeTable = linuxRouteTable(framed);
  return {
    ...node,
    gaps: { ...node.gaps, ...listGaps(framed, sessions, mounts) },
    ...shareProvenance(draftsOf(evidence)),
    routes: [...framed.sections.values()]
      .filter((section) => section.name === 'route')
      .map(parseLinuxRoute),
    ...(routeTable === undefined ? {} : { routeTable }),
    sessions: parseSsSessions(sessions?.output ?? ''),
    mounts: parseProcMounts(mounts?.output ?? ''),
  };
}

function linksOf(framed: Framed): readonly IpLink[] | undefined {
  const section = framed.sections.get(sectionKey('ip-link'));
  if (section === undefined || section.status !== 0) return undefined;
  const links = parseIpLinkJson(section.output) ?? parseIpLinkText(section.output);
  return links.length === 0 ? undefined : links;
}

/** Without `ip` the ports are those that /sys lists, if it listed all of them. */
function sysfsNames(framed: Framed): readonly string[] | undefined {
  if (!framed.core) return undefined;
  const names = [...framed.sections.values()]
    .filter((section) => section.name === 'sysfs')
    .map((section) => section.about);
  return names.length === 0 ? undefined : names;
}

function addressesOf(framed: Framed): ReadonlyMap<string, readonly string[]> | Gap {
  const section = framed.sections.get(sectionKey('ip-addr'));
  if (section === undefined) return missing(framed, 'addresses were not asked for');
  if (section.status !== 0) return refusal(section);
  return parseIpAddrJson(section.output) ?? parseIpAddrText(section.output);
}

function evidenceOf(
  framed: Framed,
  links: readonly IpLink[] | undefined,
  names: readonly string[],
): readonly LinuxEvidence[] {
  const byName = new Map((links ?? []).map((link) => [link.name, link]));
  const lower = lowerByName(links ?? []);
  const addresses = addressesOf(framed);
  return names.map((name) => {
    const link = byName.get(name);
    const sysfs = sysfsOf(framed, name, link);
    return {
      name,
      sysfs,
      ethtool: ethtoolOf(framed, name, sysfs),
      driver: driverOf(framed, name, sysfs),
      ...lineEvidence(framed, name, sysfs),
      addresses: isGap(addresses) ? addresses : (addresses.get(name) ?? []),
      ...(link === undefined ? {} : { link, lower: lowerNames(lower.get(name), link, sysfs) }),
    };
  });
}

/**
 * Where `ip` does not say of what kind a port is, as that of BusyBox, the name behind `@` of one
 * end of a veth is that of any port of this namespace that happens to have the number of the
 * other end. /sys then tells what is built on another port.
 */
function lowerNames(
  names: readonly string[] | undefined,
  link: IpLink,
  sysfs: Sysfs | Gap,
): readonly string[] {
  if (link.infoKind !== undefined || isGap(sysfs) || sysfs.deviceType !== undefined) {
    return names ?? [];
  }
  return (names ?? []).filter((name) => name !== link.lower || sysfs.lower.includes(name));
}

/** Kinds whose `master` is a bridge or an aggregate, and so stands on its members. */
const notBuiltOnMembers: ReadonlySet<string> = new Set(['vrf']);

function lowerByName(links: readonly IpLink[]): ReadonlyMap<string, readonly string[]> {
  const kinds = new Map(links.map((link) => [link.name, link.infoKind]));
  const lower = new Map<string, string[]>();
  const add = (upper: string, name: string) => {
    const known = lower.get(upper) ?? [];
    known.push(name);
    lower.set(upper, known);
  };
  for (const link of links) {
    // The two ends of a veth name each other; neither stands on the other.
    if (link.lower !== undefined && link.infoKind !== 'veth') add(link.name, link.lower);
    const { master } = link;
    if (master !== undefined && !notBuiltOnMembers.has(kinds.get(master) ?? '')) {
      add(master, link.name);
    }
  }
  return lower;
}

function draftsOf(evidence: readonly LinuxEvidence[]): ReadonlyMap<string, PortDraft> {
  const drafts = new Map<string, PortDraft>();
  for (const port of evidence) {
    const name = cleaned(port.name);
    if (name !== undefined && !drafts.has(name)) drafts.set(name, linuxPort(port));
  }
  return drafts;
}

function listGaps(
  framed: Framed,
  sessions: Section | undefined,
  mounts: Section | undefined,
): Gaps {
  const gaps: Record<string, Gap> = {};
  if (sessions === undefined) gaps['sessions'] = missing(framed, 'sessions were not asked for');
  else if (sessions.output === '' && sessions.words !== '') gaps['sessions'] = refusal(sessions);
  if (mounts === undefined) gaps['mounts'] = missing(framed, 'mounts were not asked for');
  // Status 1 of grep: no line matched.
  else if (mounts.status > 1) gaps['mounts'] = refusal(mounts);
  if (!framed.core) gaps['routes'] = missing(framed, '');
  return gaps;
}
