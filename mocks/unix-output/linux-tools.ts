import type { DescribedHost } from './described-host.ts';
import type { Printed } from './framed.ts';
import { ipAddrJson, ipLinkJson } from './linux-link.ts';
import {
  ifconfigLinuxText,
  ipAddrText,
  ipLinkText,
  ipRouteText,
  procBondingText,
  procRouteText,
  procVlanText,
} from './linux-old.ts';

const noIp = { words: 'sh: ip: not found', status: 127 };

/** What the script asks first: the list of ports and their addresses, by the tools of the host. */
export function linkSections(host: DescribedHost): readonly Printed[] {
  const tools = host.tools ?? 'json';
  if (tools === 'json') {
    return [
      { section: 'ip-link', output: ipLinkJson(host) },
      { section: 'ip-addr', output: ipAddrJson(host) },
    ];
  }
  const bonds = host.ports.filter(({ kind }) => kind === 'bond');
  const proc = [
    { section: 'vlans', output: procVlanText(host) },
    ...bonds.map((bond) => ({
      section: `bonding ${bond.name}`,
      output: procBondingText(host, bond),
    })),
  ];
  if (tools === 'ifconfig-old' || tools === 'ifconfig-new') {
    const form = tools === 'ifconfig-old' ? 'old' : 'new';
    return [
      { section: 'ip-link', ...noIp },
      { section: 'ip-addr', ...noIp },
      { section: 'ifconfig', output: ifconfigLinuxText(host, form) },
      ...proc,
    ];
  }
  return [
    { section: 'ip-link', output: ipLinkText(host, tools === 'text') },
    { section: 'ip-addr', output: ipAddrText(host) },
    ...proc,
  ];
}

/** The routing table as text, or as the kernel lists it where there is no `ip`. */
export function oldRouteTable(host: DescribedHost): readonly Printed[] {
  const rows = host.routeTable ?? [];
  if (host.tools === 'ifconfig-old' || host.tools === 'ifconfig-new') {
    return [
      ...['rules', 'rules-6', 'route-table', 'route-table-6'].map((section) => ({
        section,
        ...noIp,
      })),
      { section: 'route-n', words: 'sh: route: not found', status: 127 },
      { section: 'proc-route', output: procRouteText(rows) },
      { section: 'proc-route-6', words: 'cat: /proc/net/ipv6_route: No such file', status: 1 },
    ];
  }
  const rules =
    host.tools === 'busybox' ? '' : '0:\tfrom all lookup local\n32766:\tfrom all lookup main';
  return [
    { section: 'rules', output: rules },
    { section: 'rules-6', output: rules },
    { section: 'route-table', output: ipRouteText(rows, false) },
    { section: 'route-table-6', output: ipRouteText(rows, true) },
  ];
}
