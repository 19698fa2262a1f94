import type { RouteReading, RouteRow, SessionReading } from '../../src/facts/survey.ts';
import type { DescribedHost } from './described-host.ts';
import { framed, type Printed } from './framed.ts';
import { bridgeSections } from './linux-bridge.ts';
import { hasDevice } from './linux-link.ts';
import { lineSections, moduleSection } from './linux-physics.ts';
import { linuxPortSections } from './linux-port.ts';
import { linkSections, oldRouteTable } from './linux-tools.ts';

/**
 * What the reading script prints on the described host, between the marks. `peers` are the
 * addresses that routes are asked for.
 */
export function renderLinux(
  host: DescribedHost,
  marker: string,
  peers: readonly string[] = [],
): string {
  const servers = (host.mounts ?? []).map(({ server }) => server).filter(isNumeric);
  const asked = [...new Set([...peers, ...servers])];
  const devicesFirst = [
    ...host.ports.filter(hasDevice),
    ...host.ports.filter((port) => !hasDevice(port)),
  ];
  const noIp = host.tools === 'ifconfig-old' || host.tools === 'ifconfig-new';
  const wired = host.ports.filter((port) => hasDevice(port) && port.kind !== 'wireless');
  return framed(
    marker,
    [
      { section: 'system', output: 'Linux' },
      { section: 'name', output: host.facts.systemName ?? 'host' },
      { section: 'text', output: host.facts.systemText ?? 'Linux 6.1.0 x86_64' },
      release(host),
      { section: 'uptime', output: `${host.facts.uptimeSeconds ?? 86_400}.25 1000.50` },
      ...linkSections(host),
      ...devicesFirst.flatMap((port) => linuxPortSections(host, port)),
      ...(noIp ? [] : asked.map((to) => routeTo(host.routes ?? [], to))),
      ...((host.tools ?? 'json') === 'json' ? routeTable(host.routeTable) : oldRouteTable(host)),
      mounts(host),
      { section: 'sessions', output: sessions(host.sessions ?? []) },
    ],
    [...bridgeSections(host), ...wired.flatMap(lineSections), ...wired.map(moduleSection)],
  );
}

export function isNumeric(address: string): boolean {
  return /^[0-9A-Fa-f.:]+$/.test(address) && /[.:]/.test(address);
}

function release(host: DescribedHost): Printed {
  const version = host.facts.osVersion;
  if (version !== undefined) {
    return { section: 'os-release', output: `ID=linux\nVERSION_ID="${version}"` };
  }
  const words = 'cat: /etc/os-release: No such file or directory';
  return { section: 'os-release', words, status: 1 };
}

function routeTo(routes: readonly RouteReading[], to: string): Printed {
  const route = routes.find((one) => one.to === to);
  if (route?.device === undefined) {
    const words = route?.words ?? 'RTNETLINK answers: Network is unreachable';
    return { section: `route ${to}`, words, status: 2 };
  }
  const printed = {
    dst: to,
    gateway: route.gateway,
    dev: route.device,
    prefsrc: route.from,
    flags: [],
    uid: 1000,
    cache: [],
    metrics: route.mtuBytes === undefined ? undefined : [{ mtu: route.mtuBytes }],
  };
  return { section: `route ${to}`, output: JSON.stringify([printed]) };
}

function routeTable(rows: readonly RouteRow[] | undefined): readonly Printed[] {
  if (rows === undefined) return [];
  const rules = '0:\tfrom all lookup local\n32766:\tfrom all lookup main';
  const table = (v6: boolean) =>
    JSON.stringify(rows.filter(({ prefix }) => prefix.includes(':') === v6).map(rowOf));
  return [
    { section: 'rules', output: rules },
    { section: 'rules-6', output: rules },
    { section: 'route-table', output: table(false) },
    { section: 'route-table-6', output: table(true) },
  ];
}

function rowOf({ prefix, device, gateway, mtuBytes, metric }: RouteRow): object {
  return {
    dst: prefix.endsWith('/0') ? 'default' : prefix,
    gateway,
    dev: device,
    metric,
    flags: [],
    metrics: mtuBytes === undefined ? undefined : [{ mtu: mtuBytes }],
  };
}

function mounts(host: DescribedHost): Printed {
  const lines = (host.mounts ?? []).map(({ server, kind, at }) => {
    const v6 = server.includes(':') ? `[${server}]` : server;
    const numeric = isNumeric(server) ? `,addr=${server}` : '';
    const point = at.replaceAll(' ', '\\040');
    return kind === 'smb'
      ? `//${server}/share ${point} cifs rw,vers=3.1.1${numeric} 0 0`
      : `${v6}:/export ${point} nfs4 rw,vers=4.2,clientaddr=198.18.0.200${numeric} 0 0`;
  });
  return { section: 'mounts', output: lines.join('\n'), status: lines.length > 0 ? 0 : 1 };
}

function sessions(all: readonly SessionReading[]): string {
  const lines = ['Recv-Q Send-Q Local Address:Port Peer Address:Port Process'];
  for (const one of all) {
    for (let i = 0; i < one.count; i += 1) {
      lines.push(`0      0      ${end(one.local, 2049 + i)} ${end(one.remote, 50_000 + i)}`);
      lines.push(`\t ${sessionDetail(one)}`);
    }
  }
  return lines.join('\n');
}

function end(address: string, port: number): string {
  return address.includes(':') ? `[${address}]:${port}` : `${address}:${port}`;
}

function sessionDetail(one: SessionReading): string {
  return [
    ...(one.timestamps ? ['ts'] : []),
    'sack cubic wscale:7,7 rto:204 rtt:0.4/0.2',
    `mss:${one.segmentBytes}`,
    ...(one.pathMtuBytes === undefined ? [] : [`pmtu:${one.pathMtuBytes}`]),
    'rcvmss:536',
    ...(one.advertisedBytes === undefined ? [] : [`advmss:${one.advertisedBytes}`]),
    'cwnd:10',
  ].join(' ');
}
