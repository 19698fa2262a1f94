import type { MountReading, RouteReading, RouteRow } from '../../src/facts/survey.ts';
import type { DescribedHost, DescribedPort } from './described-host.ts';
import { framed, type Printed } from './framed.ts';
import { freebsdIfconfigText, freebsdIndexOf, isFreebsdHardware } from './freebsd-port.ts';
import { isNumeric } from './render-linux.ts';

/** Any clock will do, as the time since the start is a difference. */
const nowSeconds = 1_780_000_000;

/**
 * What the reading script prints on the described host, between the marks. `peers` are the
 * addresses that routes are asked for.
 */
export function renderFreebsd(
  host: DescribedHost,
  marker: string,
  peers: readonly string[] = [],
): string {
  const servers = (host.mounts ?? []).map(({ server }) => server).filter(isNumeric);
  const asked = [...new Set([...peers, ...servers])];
  const boot = nowSeconds - (host.facts.uptimeSeconds ?? 86_400);
  const hardware = host.ports.filter(isFreebsdHardware);
  return framed(
    marker,
    [
      { section: 'system', output: 'FreeBSD' },
      { section: 'name', output: host.facts.systemName ?? 'host' },
      { section: 'text', output: host.facts.systemText ?? 'FreeBSD 14.1-RELEASE amd64' },
      { section: 'freebsd-version', output: host.facts.osVersion ?? '14.1-RELEASE' },
      { section: 'boottime', output: `{ sec = ${boot}, usec = 500 } Thu May 28 10:00:00 2026` },
      { section: 'now', output: String(nowSeconds) },
      { section: 'ifconfig', output: freebsdIfconfigText(host) },
      { section: 'netstat', output: netstatText(host) },
      ...routeTable(host.routeTable),
      ...asked.map((to) => routeTo(host.routes ?? [], to)),
      { section: 'mounts', output: (host.mounts ?? []).map(mountLine).join('\n') },
      ...hardware.map(driverSection),
    ],
    [
      { section: 'pciconf', output: hardware.flatMap(pciLines).join('\n') },
      ...host.ports.filter(({ kind }) => kind === 'bridge').map((port) => stations(host, port)),
    ],
  );
}

function driverSection(port: DescribedPort): Printed {
  const at = `dev.${port.name.replace(/(\d+)$/, '.$1')}`;
  return {
    section: `driver ${port.name}`,
    output: [
      ...(port.driver === undefined ? [] : [`${at}.%driver: ${port.driver}`]),
      ...(port.driverVersion === undefined
        ? []
        : [`${at}.iflib.driver_version: ${port.driverVersion}`]),
    ].join('\n'),
  };
}

function pciLines(port: DescribedPort): readonly string[] {
  const [, speed, width] = /^PCIe (\S+) GT\/s x(\d+)$/.exec(port.busText ?? '') ?? [];
  if (speed === undefined) return [];
  return [
    `${port.name}@pci0:3:0:0:\tclass=0x020000 rev=0x01 hdr=0x00 vendor=0x0000 device=0x0000`,
    '    cap 10[a0] = PCI-Express 2 endpoint max data 256(512) FLR RO NS',
    `                 link x${width}(x8) speed ${speed}(8.0) ASPM disabled(L0s)`,
  ];
}

function stations(host: DescribedHost, bridge: DescribedPort): Printed {
  const lines = (host.forwarding ?? [])
    .filter(({ port }) => bridge.lowerPorts?.includes(port))
    .flatMap(({ port, vlan, macs }) =>
      macs.map((mac) => `${mac} Vlan${vlan ?? 1} ${port} 1187 flags=0<>`),
    );
  return { section: `stations ${bridge.name}`, output: lines.join('\n') };
}

function netstatText(host: DescribedHost): string {
  const rows = host.ports.map((port) => {
    const counts = [
      ...[port.rxFrames, port.rxErrors, port.rxDropped, port.rxOctets],
      ...[port.txFrames, port.txErrors, port.txOctets, 0, port.txDropped],
    ];
    const star = port.adminUp === false ? '*' : '';
    const link = `<Link#${freebsdIndexOf(host, port)}>`;
    const address = port.macAddress ?? port.name;
    const cells = [`${port.name}${star}`, port.mtuBytes ?? 1500, link, address];
    return [...cells, ...counts.map((count) => count ?? 0)].join('  ');
  });
  const header = 'Name Mtu Network Address Ipkts Ierrs Idrop Ibytes Opkts Oerrs Obytes Coll Drop';
  return [header, ...rows].join('\n');
}

function routeTable(rows: readonly RouteRow[] | undefined): readonly Printed[] {
  if (rows === undefined) return [];
  const table = (v6: boolean) =>
    rows
      .filter(({ prefix }) => prefix.includes(':') === v6)
      .map(({ prefix, gateway, device, mtuBytes }) => {
        const destination = /^(0\.0\.0\.0|::)\/0$/.test(prefix) ? 'default' : prefix;
        return `${destination}  ${gateway ?? 'link#2'}  ${gateway ? 'UGS' : 'U'}  4  ${mtuBytes}  ${device}`;
      });
  const title = 'Destination        Gateway            Flags   Nhop#    Mtu      Netif Expire';
  const v4 = ['Routing tables', '', 'Internet:', title, ...table(false)];
  return [
    {
      section: 'route-table',
      output: [...v4, '', 'Internet6:', title, ...table(true)].join('\n'),
    },
  ];
}

function routeTo(routes: readonly RouteReading[], to: string): Printed {
  const route = routes.find((one) => one.to === to);
  if (route?.device === undefined) {
    const words = route?.words ?? 'route: route has not been found';
    return { section: `route ${to}`, words, status: 1 };
  }
  const lines = [
    `   route to: ${to}`,
    `destination: ${to}`,
    ...(route.gateway === undefined ? [] : [`    gateway: ${route.gateway}`]),
    '        fib: 0',
    `  interface: ${route.device}`,
    '      flags: <UP,DONE,PINNED>',
    ' recvpipe  sendpipe  ssthresh  rtt,msec    mtu        weight    expire',
    `       0         0         0         0      ${route.mtuBytes ?? 0}         1         0 `,
  ];
  return { section: `route ${to}`, output: lines.join('\n') };
}

function mountLine({ server, kind, at }: MountReading): string {
  const host = server.includes(':') ? `[${server}]` : server;
  return kind === 'nfs'
    ? `${host}:/export on ${at} (nfs)`
    : `//AUDITOR@${host}/SHARE on ${at} (smbfs)`;
}
