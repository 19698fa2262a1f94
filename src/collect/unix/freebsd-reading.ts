import type { Gap, Gaps } from '../../facts/gap.ts';
import type { NodeReading } from '../types.ts';
import { type AskedRoutes, askedRoutes } from './asked-routes.ts';
import { cleaned, gap, type PortDraft } from './draft.ts';
import { forwardingOf, type Station } from './forwarding.ts';
import { type Framed, type Section, sectionKey, sectionsOf } from './frames.ts';
import { parseFreebsdDriver } from './freebsd-driver.ts';
import { freebsdPort } from './freebsd-port.ts';
import { type Ifconfig, parseIfconfigBsd } from './ifconfig-bsd.ts';
import { parseBridgeStations } from './ifconfig-stations.ts';
import { missing, refusal } from './linux-evidence.ts';
import { parseBsdMounts } from './mounts.ts';
import { parseNetstatInterfaces } from './netstat-interfaces.ts';
import { nodeFactsOf } from './node-reading.ts';
import { parsePciconf } from './pciconf.ts';
import { parseBsdRoute } from './route-bsd.ts';
import { parseBsdRouteTable } from './route-table-bsd.ts';
import { shareProvenance } from './share-provenance.ts';

/** The reading of a FreeBSD host; undefined where the list of its ports is not whole. */
export function freebsdReading(framed: Framed): NodeReading | undefined {
  const ifconfig = framed.sections.get(sectionKey('ifconfig'));
  if (ifconfig === undefined || ifconfig.status !== 0) return undefined;
  const ports = parseIfconfigBsd(ifconfig.output);
  if (ports.length === 0) return undefined;
  const node = nodeFactsOf(framed);
  const asked = askedRoutes(framed, parseBsdRoute);
  const routeTable = parseBsdRouteTable(framed.sections.get(sectionKey('route-table')));
  const stations = stationsOf(framed, ports);
  const forwarding = Array.isArray(stations) ? forwardingOf(stations, macsOf(ports)) : undefined;
  return {
    ...node,
    gaps: { ...node.gaps, ...listGaps(framed, stations, asked) },
    ...shareProvenance(draftsOf(framed, ports)),
    routes: asked.routes,
    ...(routeTable === undefined ? {} : { routeTable }),
    sessions: [],
    mounts: parseBsdMounts(framed.sections.get(sectionKey('mounts'))?.output ?? ''),
    ...(forwarding === undefined ? {} : { forwarding }),
  };
}

function draftsOf(framed: Framed, ports: readonly Ifconfig[]): ReadonlyMap<string, PortDraft> {
  const netstat = ofSection(framed.sections.get(sectionKey('netstat')), {
    none: missing(framed, 'not asked'),
    read: parseNetstatInterfaces,
  });
  const pci = ofSection(framed.sections.get(sectionKey('pciconf')), {
    none: missing(framed, 'not asked', 'rest'),
    read: parsePciconf,
  });
  const drafts = new Map<string, PortDraft>();
  for (const port of ports) {
    const name = cleaned(port.name);
    if (name === undefined || drafts.has(name)) continue;
    const counters = 'reason' in netstat ? netstat : netstat.get(port.name);
    const driver = ofSection(framed.sections.get(sectionKey('driver', port.name)), {
      none: missing(framed, 'asked only of the first ports'),
      read: (output) =>
        parseFreebsdDriver(output) ?? gap('unsupported', 'sysctl knows no device of that name'),
    });
    drafts.set(
      name,
      freebsdPort({
        port,
        all: ports,
        counters: counters ?? gap('unsupported', 'netstat prints no row for it'),
        driver,
        pci,
      }),
    );
  }
  return drafts;
}

function ofSection<T>(
  section: Section | undefined,
  by: { readonly none: Gap; readonly read: (output: string) => T },
): T | Gap {
  if (section === undefined) return by.none;
  return section.status === 0 ? by.read(section.output) : refusal(section);
}

function stationsOf(framed: Framed, ports: readonly Ifconfig[]): readonly Station[] | Gap {
  if (!ports.some(({ bridgeMembers }) => bridgeMembers.length > 0)) {
    return gap('unsupported', 'no bridge here');
  }
  if (!framed.whole) return missing(framed, '', 'rest');
  const sections = sectionsOf(framed, 'stations');
  const failed = sections.find(({ status }) => status !== 0);
  if (failed !== undefined) return refusal(failed);
  return sections.flatMap(({ output }) => parseBridgeStations(output));
}

function macsOf(ports: readonly Ifconfig[]): ReadonlySet<string> {
  return new Set(ports.flatMap(({ macAddress }) => macAddress ?? []));
}

function listGaps(framed: Framed, stations: readonly Station[] | Gap, asked: AskedRoutes): Gaps {
  const mounts = framed.sections.get(sectionKey('mounts'));
  const gaps: Record<string, Gap> = {
    sessions: gap('unsupported', 'FreeBSD does not print the segment size of a session'),
  };
  if (mounts === undefined) gaps['mounts'] = missing(framed, 'mounts were not asked for');
  else if (mounts.status !== 0) gaps['mounts'] = refusal(mounts);
  if (asked.gap !== undefined) gaps['routes'] = asked.gap;
  if ('reason' in stations) gaps['forwarding'] = stations;
  return gaps;
}
