import type { Gap, Gaps } from '../../facts/gap.ts';
import type { NodeReading } from '../types.ts';
import { type AskedRoutes, askedRoutes } from './asked-routes.ts';
import { cleaned, gap, type PortDraft } from './draft.ts';
import { type Framed, sectionKey } from './frames.ts';
import { parseIfconfigBsd } from './ifconfig-bsd.ts';
import { isGap, missing, refusal } from './linux-evidence.ts';
import { type MacosEvidence, macosPort } from './macos-port.ts';
import { parseBsdMounts } from './mounts.ts';
import { parseNetstatInterfaces } from './netstat-interfaces.ts';
import {
  parseHardwarePorts,
  parseMediaSetting,
  parseMtuRange,
  parseMtuSetting,
} from './networksetup.ts';
import { nodeFactsOf } from './node-reading.ts';
import { parseBsdRoute } from './route-bsd.ts';
import { parseBsdRouteTable } from './route-table-bsd.ts';
import { shareProvenance } from './share-provenance.ts';
import { type ProfileItem, parseSystemProfile } from './system-profile.ts';
import { firstGroup, present } from './text.ts';

/** The reading of a macOS host; undefined where the list of its ports is not whole. */
export function macosReading(framed: Framed): NodeReading | undefined {
  const ifconfig = framed.sections.get(sectionKey('ifconfig'));
  if (ifconfig === undefined || ifconfig.status !== 0) return undefined;
  const ports = parseIfconfigBsd(ifconfig.output);
  if (ports.length === 0) return undefined;
  const hardware = hardwareOf(framed);
  const netstat = sectionOf(framed, 'netstat', parseNetstatInterfaces);
  const busReports = {
    ethernet: reportOf(framed, 'SPEthernetDataType'),
    pci: reportOf(framed, 'SPPCIDataType'),
    thunderbolt: reportOf(framed, 'SPThunderboltDataType'),
  };
  const drafts = new Map<string, PortDraft>();
  for (const port of ports) {
    const name = cleaned(port.name);
    if (name === undefined || drafts.has(name)) continue;
    const hardwarePort = isGap(hardware) ? hardware : hardware.get(port.name);
    const counters = isGap(netstat) ? netstat : netstat.get(port.name);
    const evidence: MacosEvidence = {
      port,
      all: ports,
      hardwarePort,
      counters: counters ?? gap('unsupported', 'netstat prints no row for it'),
      mtuSetting: ofPort(framed, ['mtu', port.name, hardwarePort], parseMtuSetting),
      mtuRange: ofPort(framed, ['mtu-range', port.name, hardwarePort], parseMtuRange),
      busReports,
      ...present({
        mediaSetting: parseMediaSetting(outputOf(framed, 'media', port.name)),
        bondMode: bondModeOf(outputOf(framed, 'bond', port.name)),
      }),
    };
    drafts.set(name, macosPort(evidence));
  }
  const node = nodeFactsOf(framed);
  const asked = askedRoutes(framed, parseBsdRoute);
  const routeTable = parseBsdRouteTable(framed.sections.get(sectionKey('route-table')));
  return {
    ...node,
    gaps: { ...node.gaps, ...listGaps(framed, asked) },
    ...shareProvenance(drafts),
    routes: asked.routes,
    ...(routeTable === undefined ? {} : { routeTable }),
    sessions: [],
    mounts: parseBsdMounts(framed.sections.get(sectionKey('mounts'))?.output ?? ''),
  };
}

function outputOf(framed: Framed, name: string, about: string): string {
  return framed.sections.get(sectionKey(name, about))?.output ?? '';
}

/** `bond mode: lacp` or `static`; the first in the spelling that all systems share here. */
function bondModeOf(output: string): string | undefined {
  const mode = firstGroup(output, /^\s*bond mode: (lacp|static)\s*$/m);
  return mode === 'lacp' ? '802.3ad' : mode;
}

function sectionOf<T>(framed: Framed, name: string, read: (output: string) => T): T | Gap {
  const section = framed.sections.get(sectionKey(name));
  if (section === undefined) return missing(framed, 'not asked');
  return section.status === 0 ? read(section.output) : refusal(section);
}

/** A list without a port is none: every one of these machines has a port. */
function hardwareOf(framed: Framed): ReadonlyMap<string, string> | Gap {
  const ports = sectionOf(framed, 'hardware-ports', parseHardwarePorts);
  if (isGap(ports) || ports.size > 0) return ports;
  return gap('unreadable', 'networksetup -listallhardwareports prints no port');
}

function reportOf(framed: Framed, type: string): readonly ProfileItem[] | Gap {
  const section = framed.sections.get(sectionKey('profile', type));
  if (section === undefined) return missing(framed, 'not asked', 'rest');
  return parseSystemProfile(section.output, type) ?? refusal(section);
}

/** What `networksetup` says of one device; its errors come on standard output. */
function ofPort<T extends object>(
  framed: Framed,
  [name, port, hardwarePort]: readonly [string, string, string | Gap | undefined],
  read: (output: string) => T,
): T | Gap {
  const section = framed.sections.get(sectionKey(name, port));
  if (section === undefined) {
    if (hardwarePort !== undefined && isGap(hardwarePort)) return hardwarePort;
    if (hardwarePort === undefined) return gap('unasked', 'asked only of hardware ports');
    return missing(framed, 'port not looked at one by one');
  }
  const value = read(section.output);
  return Object.keys(value).length > 0 ? value : refusal(section);
}

function listGaps(framed: Framed, asked: AskedRoutes): Gaps {
  const mounts = framed.sections.get(sectionKey('mounts'));
  const gaps: Record<string, Gap> = {
    sessions: gap('unsupported', 'macOS does not print the segment size of a session'),
  };
  if (mounts === undefined) gaps['mounts'] = missing(framed, 'mounts were not asked for');
  else if (mounts.status !== 0) gaps['mounts'] = refusal(mounts);
  if (asked.gap !== undefined) gaps['routes'] = asked.gap;
  return gaps;
}
