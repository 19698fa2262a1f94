import type { MountReading, RouteReading, RouteRow } from '../../src/facts/survey.ts';
import type { DescribedHost, DescribedPort } from './described-host.ts';
import { framed, type Printed } from './framed.ts';
import { hardwarePortsText, ifconfigText, isHardware, netstatText } from './macos-port.ts';
import { profileSections } from './macos-profile.ts';
import { isNumeric } from './render-linux.ts';

/** Any clock will do, as the time since the start is a difference. */
const nowSeconds = 1_780_000_000;

/**
 * What the reading script prints on the described host, between the marks. `peers` are the
 * addresses that routes are asked for.
 */
export function renderMacos(
  host: DescribedHost,
  marker: string,
  peers: readonly string[] = [],
): string {
  const servers = (host.mounts ?? []).map(({ server }) => server).filter(isNumeric);
  const mountedOnly = [...new Set(servers)].filter((server) => !peers.includes(server));
  const boot = nowSeconds - (host.facts.uptimeSeconds ?? 86_400);
  const version = host.facts.osVersion ?? '15.1';
  return framed(
    marker,
    [
      { section: 'system', output: 'Darwin' },
      { section: 'name', output: host.facts.systemName ?? 'host' },
      { section: 'text', output: host.facts.systemText ?? 'Darwin 24.1.0 arm64' },
      { section: 'sw-vers', output: `ProductVersion:\t\t${version}\nBuildVersion:\t\t24B83` },
      { section: 'boottime', output: `{ sec = ${boot}, usec = 500 } Thu May 28 10:00:00 2026` },
      { section: 'now', output: String(nowSeconds) },
      { section: 'ifconfig', output: ifconfigText(host) },
      ...host.ports.filter(({ kind }) => kind === 'bond').map(bondSection),
      { section: 'hardware-ports', output: hardwarePortsText(host) },
      { section: 'service-order', output: serviceOrderText(host) },
      { section: 'netstat', output: netstatText(host) },
      ...routeTable(host.routeTable),
      ...[...new Set(peers)].map((to) => routeTo(host.routes ?? [], to)),
      { section: 'mounts', output: (host.mounts ?? []).map(mountLine).join('\n') },
      ...host.ports.filter(isHardware).flatMap(mtuSections),
      ...mountedOnly.map((to) => routeTo(host.routes ?? [], to)),
    ],
    profileSections(host),
  );
}

/** Put together from memory; only the line of the mode is read. */
function bondSection({ name, lowerPorts = [], aggregateMode }: DescribedPort): Printed {
  const mode = aggregateMode === '802.3ad' ? 'lacp' : 'static';
  const output = `${name}: flags=8843<UP> mtu 1500\n\tbond interfaces: ${lowerPorts.join(' ')}\n\tbond mode: ${mode}`;
  return { section: `bond ${name}`, output };
}

function serviceOrderText({ facts, ports }: DescribedHost): string {
  const services = (facts.serviceOrder ?? []).map((device, at) => {
    const name = ports.find((port) => port.name === device)?.alias ?? 'Ethernet';
    return `(${at + 1}) ${name}\n(Hardware Port: ${name}, Device: ${device})\n`;
  });
  const off = '(*) Old Adapter\n(Hardware Port: Old Adapter, Device: en99)\n';
  const asterisk = 'An asterisk (*) denotes that a network service is disabled.';
  return [asterisk, ...services, off].join('\n');
}

function mtuSections(port: DescribedPort): readonly Printed[] {
  const setting =
    port.mtuConfiguredBytes === undefined ? '' : ` (Current Setting: ${port.mtuConfiguredBytes})`;
  const { mtuMinBytes: min, mtuMaxBytes: max } = port;
  const range =
    min === undefined || max === undefined
      ? '** Error: The parameters were not valid.'
      : `Valid MTU Range: ${min}-${max}`;
  return [
    { section: `mtu ${port.name}`, output: `Active MTU: ${port.mtuBytes}${setting}` },
    { section: `mtu-range ${port.name}`, output: range },
    { section: `media ${port.name}`, output: 'Current: autoselect\nActive: not set' },
  ];
}

function routeTable(rows: readonly RouteRow[] | undefined): readonly Printed[] {
  if (rows === undefined) return [];
  const table = (v6: boolean) =>
    rows
      .filter(({ prefix }) => prefix.includes(':') === v6)
      .map(({ prefix, gateway, device }) => {
        const destination = /^(0\.0\.0\.0|::)\/0$/.test(prefix) ? 'default' : prefix;
        return `${destination}  ${gateway ?? 'link#4'}  UCS  ${device}  !`;
      });
  const title = 'Destination        Gateway            Flags               Netif Expire';
  const lines = ['Routing tables', '', 'Internet:', title, ...table(false)];
  return [
    {
      section: 'route-table',
      output: [...lines, '', 'Internet6:', title, ...table(true)].join('\n'),
    },
  ];
}

function routeTo(routes: readonly RouteReading[], to: string): Printed {
  const route = routes.find((one) => one.to === to);
  if (route?.device === undefined) {
    const words = route?.words ?? 'route: writing to routing socket: not in table';
    return { section: `route ${to}`, words, status: 1 };
  }
  const lines = [
    `   route to: ${to}`,
    `destination: ${to}`,
    ...(route.gateway === undefined ? [] : [`    gateway: ${route.gateway}`]),
    `  interface: ${route.device}`,
    '      flags: <UP,HOST,DONE,LLINFO,WASCLONED,IFSCOPE,IFREF>',
    ' recvpipe  sendpipe  ssthresh  rtt,msec    rttvar  hopcount      mtu     expire',
    `       0         0         0         0         0         0  ${route.mtuBytes ?? 0}      1197 `,
  ];
  return { section: `route ${to}`, output: lines.join('\n') };
}

function mountLine({ server, kind, at }: MountReading): string {
  const host = server.includes(':') ? `[${server}]` : server;
  if (kind === 'nfs') return `${host}:/export on ${at} (nfs, nodev, nosuid)`;
  const type = kind === 'smb' ? 'smbfs' : 'afpfs';
  return `//auditor@${host}/share on ${at} (${type}, nodev, nosuid, mounted by auditor)`;
}
