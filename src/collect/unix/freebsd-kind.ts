import { type Found, found } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import type { HostPortKind } from './linux-kind.ts';
import { entryOf } from './text.ts';

/** Groups that the kernel puts what it makes up into, by the name of the driver (ifconfig(8)). */
const kindOfGroup: Readonly<Record<string, HostPortKind>> = {
  lo: 'loopback',
  vlan: 'vlan',
  lagg: 'bond',
  bridge: 'bridge',
  wlan: 'wireless',
  tun: 'tunnel',
  gif: 'tunnel',
  gre: 'tunnel',
  stf: 'tunnel',
  wg: 'tunnel',
  vxlan: 'tunnel',
  ipsec: 'tunnel',
  enc: 'tunnel',
  ovpn: 'tunnel',
  openvpn: 'tunnel',
  tap: 'virtual',
  vmnet: 'virtual',
  epair: 'virtual',
  pflog: 'virtual',
  pfsync: 'virtual',
  carp: 'virtual',
  usbus: 'virtual',
};

/** Drivers of ports that a hypervisor makes up (section 4 of the manual). */
const paravirtual: ReadonlySet<string> = new Set(['vtnet', 'vmx', 'hn', 'xn', 'netvsc']);

/** What kind of port of a FreeBSD host this is. */
export function freebsdKind(port: Ifconfig): Found<HostPortKind> {
  const byGroup = port.groups
    .map((group) => entryOf(kindOfGroup, group))
    .find((kind) => kind !== undefined);
  if (byGroup !== undefined) return found(byGroup, 'ifconfig groups');
  const byName = entryOf(kindOfGroup, driverOfName(port.name));
  if (byName !== undefined) return found(byName, 'ifconfig name');
  if (port.vlanId !== undefined) return found('vlan', 'ifconfig vlan');
  if (port.lagProtocol !== undefined) return found('bond', 'ifconfig laggproto');
  if (/^IEEE 802\.11/.test(port.media ?? '')) return found('wireless', 'ifconfig media');
  const driver = driverOfName(port.driverName ?? port.name);
  if (paravirtual.has(driver)) return found('virtual', 'ifconfig name');
  const line = /^Ethernet(?: |$)/.test(port.media ?? '') && port.macAddress !== undefined;
  return found(line ? 'physical' : 'virtual', 'ifconfig media');
}

/** `ix` of `ix0`: the kernel names a port after its driver unless somebody renames it. */
export function driverOfName(name: string): string {
  return name.replace(/\d+[ab]?$/, '');
}
