import type { Gap } from '../../facts/gap.ts';
import { type Found, found, gap } from './draft.ts';
import { isGap, type LinuxEvidence } from './linux-evidence.ts';
import type { Sysfs } from './sysfs.ts';
import { entryOf } from './text.ts';

/** Values of the fact `kind` on hosts. */
export type HostPortKind =
  | 'physical'
  | 'vlan'
  | 'bridge'
  | 'bond'
  | 'wireless'
  | 'loopback'
  | 'tunnel'
  | 'virtual';

const kindOfInfo: Readonly<Record<string, HostPortKind>> = {
  vlan: 'vlan',
  bridge: 'bridge',
  bond: 'bond',
  team: 'bond',
  veth: 'virtual',
  dummy: 'virtual',
  macvlan: 'virtual',
  macvtap: 'virtual',
  ipvlan: 'virtual',
  ipvtap: 'virtual',
  ifb: 'virtual',
  vrf: 'virtual',
  nlmon: 'virtual',
  netkit: 'virtual',
  macsec: 'virtual',
  hsr: 'virtual',
  batadv: 'virtual',
  vcan: 'virtual',
  vxcan: 'virtual',
  vxlan: 'tunnel',
  geneve: 'tunnel',
  gre: 'tunnel',
  gretap: 'tunnel',
  ip6gre: 'tunnel',
  ip6gretap: 'tunnel',
  ip6tnl: 'tunnel',
  ipip: 'tunnel',
  sit: 'tunnel',
  vti: 'tunnel',
  vti6: 'tunnel',
  xfrm: 'tunnel',
  wireguard: 'tunnel',
  ppp: 'tunnel',
  erspan: 'tunnel',
  ip6erspan: 'tunnel',
  bareudp: 'tunnel',
  gtp: 'tunnel',
  amt: 'tunnel',
  ovpn: 'tunnel',
};

/** `DEVTYPE` of the kernel's own device types (common practice, read on Linux 6.18). */
const kindOfDeviceType: Readonly<Record<string, HostPortKind>> = {
  vlan: 'vlan',
  bridge: 'bridge',
  bond: 'bond',
  wlan: 'wireless',
  vxlan: 'tunnel',
  geneve: 'tunnel',
  gre: 'tunnel',
  wireguard: 'tunnel',
  gretap: 'tunnel',
  ip6gre: 'tunnel',
  ip6gretap: 'tunnel',
  erspan: 'tunnel',
  bareudp: 'tunnel',
  ppp: 'tunnel',
};

/** Drivers of ports that a hypervisor makes up: they have a device, but no line and no rate. */
const paravirtual =
  /^(?:virtio_net|virtio-net|veth|vmxnet\d?|hv_netvsc|netvsc|vif|xen_netfront|xen-netfront|xennet)$/;

/** IFF_LOOPBACK device type and those of point-to-point devices: `include/uapi/linux/if_arp.h`. */
const kindOfDeviceNumber: Readonly<Record<string, HostPortKind>> = {
  '772': 'loopback',
  '65534': 'tunnel',
  '512': 'tunnel',
  '768': 'tunnel',
  '769': 'tunnel',
  '776': 'tunnel',
  '778': 'tunnel',
  '823': 'tunnel',
};

/** What kind of port this is. The gap of `/sys` where only that could tell. */
export function linuxKind(evidence: LinuxEvidence): Found<HostPortKind> | Gap {
  const { link, sysfs, ifconfig } = evidence;
  const info = link?.infoKind;
  if (link?.linkType === 'loopback') return found('loopback', 'ip link');
  // A tap carries Ethernet frames and is no tunnel.
  if (info === 'tun') {
    return found(link?.linkType === 'ether' ? 'virtual' : 'tunnel', 'ip -d link linkinfo');
  }
  const byInfo = info === undefined ? undefined : entryOf(kindOfInfo, info);
  if (byInfo !== undefined) return found(byInfo, 'ip -d link linkinfo');
  if (evidence.vlan !== undefined) return found('vlan', '/proc/net/vlan/config');
  if (evidence.bond !== undefined) return found('bond', '/proc/net/bonding');
  if (ifconfig?.loopback === true) return found('loopback', 'ifconfig');
  if (isGap(sysfs)) {
    return info === undefined ? sysfs : gap(sysfs.reason, `kind ${info}; ${sysfs.words}`);
  }
  return found(kindBySysfs(sysfs), '/sys/class/net');
}

function kindBySysfs(sysfs: Sysfs): HostPortKind {
  const byType = entryOf(kindOfDeviceType, sysfs.deviceType ?? '');
  if (byType !== undefined) return byType;
  if (sysfs.wireless) return 'wireless';
  if (sysfs.bond) return 'bond';
  if (sysfs.bridge) return 'bridge';
  const byNumber = entryOf(kindOfDeviceNumber, sysfs.values.get('type') ?? '');
  if (byNumber !== undefined) return byNumber;
  if (!sysfs.hasDevice) return 'virtual';
  return paravirtual.test(sysfs.driver ?? '') ? 'virtual' : 'physical';
}
