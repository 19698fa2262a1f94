import type { DescribedHost, DescribedPort } from './described-host.ts';

const infoKind: Readonly<Record<DescribedPort['kind'], string | undefined>> = {
  physical: undefined,
  wireless: undefined,
  loopback: undefined,
  vlan: 'vlan',
  bridge: 'bridge',
  bond: 'bond',
  tunnel: 'wireguard',
  virtual: 'veth',
};

/** What `ip -j -d link` prints of a host. */
export function ipLinkJson(host: DescribedHost): string {
  return JSON.stringify(host.ports.map((port) => linkOf(host, port)));
}

/** What `ip -j addr` prints of a host. */
export function ipAddrJson(host: DescribedHost): string {
  return JSON.stringify(
    host.ports.map((port) => ({
      ifindex: indexOf(host, port),
      ifname: port.name,
      addr_info: (port.addresses ?? []).map(addressOf),
    })),
  );
}

/** A virtual port has a device behind it when it has a driver, as in a virtual machine. */
export function hasDevice(port: DescribedPort): boolean {
  return (
    port.kind === 'physical' ||
    port.kind === 'wireless' ||
    (port.kind === 'virtual' && port.driver !== undefined)
  );
}

export function indexOf(host: DescribedHost, port: DescribedPort): number {
  return port.ifIndex ?? host.ports.indexOf(port) + 1;
}

function linkOf(host: DescribedHost, port: DescribedPort): object {
  const up = port.adminUp !== false;
  const carrier = up && port.operUp !== false;
  const kind = hasDevice(port) ? undefined : infoKind[port.kind];
  const master = host.ports.find(
    ({ kind: upper, lowerPorts }) =>
      (upper === 'bridge' || upper === 'bond') && lowerPorts?.includes(port.name),
  );
  return {
    ifindex: indexOf(host, port),
    link: port.kind === 'vlan' ? port.lowerPorts?.[0] : undefined,
    ifname: port.name,
    flags: [
      port.kind === 'loopback' ? 'LOOPBACK' : 'BROADCAST',
      ...(up && !carrier ? ['NO-CARRIER'] : []),
      'MULTICAST',
      ...(up ? ['UP'] : []),
      ...(carrier ? ['LOWER_UP'] : []),
    ],
    mtu: port.mtuBytes,
    qdisc: 'mq',
    master: master?.name,
    operstate: carrier ? 'UP' : 'DOWN',
    link_type: port.kind === 'loopback' ? 'loopback' : port.kind === 'tunnel' ? 'none' : 'ether',
    address: port.macAddress ?? '00:00:00:00:00:00',
    permaddr: port.permanentMacAddress === port.macAddress ? undefined : port.permanentMacAddress,
    min_mtu: port.mtuMinBytes ?? 0,
    max_mtu: port.mtuMaxBytes ?? 0,
    linkinfo:
      kind === undefined
        ? undefined
        : { info_kind: kind, info_data: port.vlanId === undefined ? {} : vlanData(port.vlanId) },
    ifalias: port.alias,
  };
}

function vlanData(id: number): object {
  return { protocol: '802.1Q', id, flags: ['REORDER_HDR'] };
}

function addressOf(text: string): object {
  const [local = '', length = ''] = text.split('/');
  return {
    family: local.includes(':') ? 'inet6' : 'inet',
    local,
    prefixlen: Number.parseInt(length, 10),
    scope: local === '::1' || local.startsWith('127.') ? 'host' : 'global',
  };
}
