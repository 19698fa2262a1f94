import type { DescribedHost, DescribedPort } from './described-host.ts';
import { lacpBitsOf } from './lacp-bits.ts';

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
    linkinfo: linkInfo(host, port, { kind, master }),
    ifalias: port.alias,
  };
}

function linkInfo(
  host: DescribedHost,
  port: DescribedPort,
  {
    kind,
    master,
  }: { readonly kind: string | undefined; readonly master: DescribedPort | undefined },
): object | undefined {
  const slaveKind =
    master?.kind === 'bridge' && port.spanningTree === undefined ? undefined : master?.kind;
  if (kind === undefined && slaveKind === undefined) return undefined;
  return {
    info_kind: kind,
    info_data: kind === undefined ? undefined : infoData(host, port),
    info_slave_kind: slaveKind,
    info_slave_data: slaveKind === undefined ? undefined : slaveData(port, slaveKind),
  };
}

function infoData(host: DescribedHost, port: DescribedPort): object {
  if (port.vlanId !== undefined) return vlanData(port.vlanId);
  const members = host.ports.filter(({ name }) => port.lowerPorts?.includes(name));
  if (port.kind === 'bridge') {
    const filtering = members.some(({ untaggedVlans }) => untaggedVlans !== undefined);
    return { forward_delay: 1500, stp_state: 1, vlan_filtering: filtering ? 1 : 0 };
  }
  if (port.aggregateMode === undefined) return {};
  const used = members.find(({ lacpPartnerSystem }) => lacpPartnerSystem !== undefined);
  return {
    mode: port.aggregateMode,
    miimon: 100,
    ad_info:
      used?.aggregatorId === undefined
        ? undefined
        : { aggregator: used.aggregatorId, num_ports: 1, partner_mac: used.lacpPartnerSystem },
  };
}

function slaveData(port: DescribedPort, kind: string): object {
  if (kind === 'bridge') return { state: port.spanningTree, priority: 32, cost: 2 };
  const state = (names: readonly string[] | undefined) =>
    names === undefined ? undefined : lacpBitsOf(names);
  return {
    state: port.operUp === false ? 'BACKUP' : 'ACTIVE',
    perm_hwaddr: port.permanentMacAddress,
    ad_aggregator_id: port.aggregatorId,
    ad_actor_oper_port_state: state(port.lacpActor),
    ad_partner_oper_port_state: state(port.lacpPartner),
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
