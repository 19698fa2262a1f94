import { cleanText } from '../../facts/clean-text.ts';
import type { Gap, Gaps } from '../../facts/gap.ts';
import type { NodeReading } from '../types.ts';
import { type AskedRoutes, askedRoutes } from './asked-routes.ts';
import { parseBridgeFdb } from './bridge-fdb.ts';
import { parseBridgeVlans } from './bridge-vlans.ts';
import { cleaned, gap, type PortDraft, type Settled } from './draft.ts';
import { forwardingOf, type Station } from './forwarding.ts';
import { type Framed, type Section, sectionKey, sectionsOf } from './frames.ts';
import { parseIpAddrJson } from './ip-addr-json.ts';
import type { IpLink } from './ip-link.ts';
import { parseIpLinkJson } from './ip-link-json.ts';
import { parseIpAddrText, parseIpLinkText } from './ip-text.ts';
import {
  driverOf,
  driverVersionOf,
  ethtoolOf,
  isGap,
  type LinuxEvidence,
  lineEvidence,
  missing,
  refusal,
  sysfsOf,
} from './linux-evidence.ts';
import { type LinuxUppers, uppersOf } from './linux-layers.ts';
import { lowerPortsOfLinux } from './linux-lower.ts';
import { linuxPort } from './linux-port.ts';
import { type Proc, procOf } from './linux-proc.ts';
import { parseProcMounts } from './mounts.ts';
import { nodeFactsOf } from './node-reading.ts';
import { parseLinuxRoute } from './route-linux.ts';
import { linuxRouteTable } from './route-table-linux.ts';
import { shareProvenance } from './share-provenance.ts';
import { parseSsSessions } from './ss-sessions.ts';
import { present } from './text.ts';

/** Ports of one node that are kept. */
const portsMax = 4096;

/** The reading of a Linux host; undefined where the list of its ports is not whole. */
export function linuxReading(framed: Framed): NodeReading | undefined {
  const links = linksOf(framed);
  const proc = procOf(framed);
  const names = links === undefined ? otherNames(framed, proc) : links.map((link) => link.name);
  if (names === undefined) return undefined;
  const evidence = evidenceOf(framed, { links, proc, names: names.slice(0, portsMax) });
  const drafts = draftsOf(evidence, uppersOf(evidence, bridgeVlansOf(framed)));
  const sessions = framed.sections.get(sectionKey('sessions'));
  const mounts = framed.sections.get(sectionKey('mounts'));
  const node = nodeFactsOf(framed);
  const routeTable = linuxRouteTable(framed);
  const asked = askedRoutes(framed, parseLinuxRoute);
  const stations = stationsOf(framed, drafts);
  return {
    ...node,
    gaps: {
      ...node.gaps,
      ...listGaps(framed, { sessions, mounts, asked }),
      ...gapOf('forwarding', stations),
    },
    ...shareProvenance(drafts),
    routes: asked.routes,
    ...(routeTable === undefined ? {} : { routeTable }),
    sessions: parseSsSessions(sessions?.output ?? ''),
    mounts: parseProcMounts(mounts?.output ?? ''),
    ...('reason' in stations ? {} : { forwarding: forwardingOf(stations, ownMacs(drafts)) }),
  };
}

function linksOf(framed: Framed): readonly IpLink[] | undefined {
  const section = framed.sections.get(sectionKey('ip-link'));
  if (section === undefined || section.status !== 0) return undefined;
  const links = parseIpLinkJson(section.output) ?? parseIpLinkText(section.output);
  return links.length === 0 ? undefined : links;
}

/** Without `ip` the ports are those that /sys and `ifconfig` list, if they listed all of them. */
function otherNames(framed: Framed, { ifconfig }: Proc): readonly string[] | undefined {
  if (!framed.core) return undefined;
  const bySysfs = sectionsOf(framed, 'sysfs').map(({ about }) => about);
  const names = [...new Set([...bySysfs, ...ifconfig.keys()])];
  return names.length === 0 ? undefined : names;
}

/** Undefined for an interface with one that cannot be read; one that is not there has none. */
type Addresses = ReadonlyMap<string, readonly string[] | undefined>;

function addressesOf(framed: Framed): Addresses | Gap {
  const section = framed.sections.get(sectionKey('ip-addr'));
  if (section === undefined) return missing(framed, 'addresses were not asked for');
  if (section.status !== 0) return refusal(section);
  const addresses = parseIpAddrJson(section.output) ?? parseIpAddrText(section.output);
  // Every system has an address of its loopback: something was printed that is none of this.
  if (addresses.size === 0 && section.output.trim() !== '') {
    return gap('unreadable', `no addresses in "${cleanText(section.output, 80)}"`);
  }
  return addresses;
}

function evidenceOf(
  framed: Framed,
  given: {
    readonly links: readonly IpLink[] | undefined;
    readonly proc: Proc;
    readonly names: readonly string[];
  },
): readonly LinuxEvidence[] {
  const { proc } = given;
  const links = given.links ?? [];
  const byName = new Map(links.map((link) => [link.name, link]));
  const byIp = lowerByName(links);
  const addresses = addressesOf(framed);
  return given.names.map((name) => {
    const link = byName.get(name);
    const sysfs = sysfsOf(framed, name, link);
    const vlan = proc.vlans.get(name);
    const bond = proc.bonds.get(name);
    const ifconfig = proc.ifconfig.get(name);
    return {
      name,
      sysfs,
      ethtool: ethtoolOf(framed, name, sysfs),
      driver: driverOf(framed, name, sysfs),
      driverVersion: driverVersionOf(framed, name, sysfs),
      ...lineEvidence(framed, name, sysfs),
      addresses: isGap(addresses) ? addresses : addressesAt(addresses, name),
      lower: lowerPortsOfLinux({ link, byIp: byIp.get(name) ?? [], sysfs, vlan, bond }),
      ...present<Pick<LinuxEvidence, 'link' | 'vlan' | 'bond' | 'ifconfig'>>({
        link,
        vlan,
        bond,
        ifconfig,
      }),
    };
  });
}

function addressesAt(addresses: Addresses, name: string): readonly string[] | Gap {
  if (!addresses.has(name)) return [];
  return addresses.get(name) ?? gap('unreadable', 'ip addr prints an address that is none');
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

function draftsOf(
  evidence: readonly LinuxEvidence[],
  uppers: LinuxUppers,
): ReadonlyMap<string, PortDraft> {
  const drafts = new Map<string, PortDraft>();
  for (const port of evidence) {
    const name = cleaned(port.name);
    if (name !== undefined && !drafts.has(name)) drafts.set(name, linuxPort(port, uppers));
  }
  return drafts;
}

function bridgeVlansOf(framed: Framed): LinuxUppers['vlans'] {
  const section = framed.sections.get(sectionKey('bridge-vlans'));
  if (section === undefined) return missing(framed, 'no bridge was seen', 'rest');
  return parseBridgeVlans(section.output) ?? refusal(section);
}

function stationsOf(
  framed: Framed,
  drafts: ReadonlyMap<string, PortDraft>,
): readonly Station[] | Gap {
  const section = framed.sections.get(sectionKey('bridge-stations'));
  if (section === undefined) {
    const bridge = [...drafts.values()].some(({ kind }) => readValue(kind) === 'bridge');
    if (bridge || !framed.whole) return missing(framed, 'not asked', 'rest');
    return gap('unsupported', 'no bridge here');
  }
  if (section.output === '' && section.words !== '') return refusal(section);
  return parseBridgeFdb(section.output);
}

function ownMacs(drafts: ReadonlyMap<string, PortDraft>): ReadonlySet<string> {
  return new Set([...drafts.values()].flatMap(({ macAddress }) => readValue(macAddress) ?? []));
}

function readValue<T>(settled: Settled<T>): T | undefined {
  return settled !== undefined && typeof settled === 'object' && 'value' in settled
    ? settled.value
    : undefined;
}

function gapOf(name: string, read: object): Gaps {
  return 'reason' in read ? { [name]: read as Gap } : {};
}

function listGaps(
  framed: Framed,
  {
    sessions,
    mounts,
    asked,
  }: {
    readonly sessions: Section | undefined;
    readonly mounts: Section | undefined;
    readonly asked: AskedRoutes;
  },
): Gaps {
  const gaps: Record<string, Gap> = {};
  if (sessions === undefined) gaps['sessions'] = missing(framed, 'sessions were not asked for');
  else if (sessions.output === '' && sessions.words !== '') gaps['sessions'] = refusal(sessions);
  if (mounts === undefined) gaps['mounts'] = missing(framed, 'mounts were not asked for');
  // Status 1 of grep: no line matched.
  else if (mounts.status > 1) gaps['mounts'] = refusal(mounts);
  if (asked.gap !== undefined) gaps['routes'] = asked.gap;
  return gaps;
}
