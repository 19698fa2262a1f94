import type { RouteRow } from '../../src/facts/survey.ts';
import type { DescribedHost, DescribedPort } from './described-host.ts';
import { lacpBitsOf } from './lacp-bits.ts';
import { hasDevice, indexOf } from './linux-link.ts';

const infoWords: Readonly<Partial<Record<DescribedPort['kind'], string>>> = {
  bridge: 'bridge forward_delay 1500 hello_time 200',
  tunnel: 'wireguard',
  virtual: 'veth',
};

/** What `ip -o link` prints of a host; with `-d` where `details` is true. */
export function ipLinkText(host: DescribedHost, details: boolean): string {
  return host.ports.map((port) => linkLine(host, port, details)).join('\n');
}

function linkLine(host: DescribedHost, port: DescribedPort, details: boolean): string {
  const up = port.adminUp !== false;
  const carrier = up && port.operUp !== false;
  const flags = [
    ...(up && !carrier ? ['NO-CARRIER'] : []),
    port.kind === 'loopback' ? 'LOOPBACK' : 'BROADCAST',
    ...(up ? ['UP'] : []),
    ...(carrier ? ['LOWER_UP'] : []),
  ].join(',');
  const upper = upperOf(host, port);
  const name = port.kind === 'vlan' ? `${port.name}@${port.lowerPorts?.[0]}` : port.name;
  const type = port.kind === 'loopback' ? 'loopback' : port.kind === 'tunnel' ? 'none' : 'ether';
  const head = `${indexOf(host, port)}: ${name}: <${flags}> mtu ${port.mtuBytes} qdisc mq`;
  const link = `link/${type} ${port.macAddress ?? '00:00:00:00:00:00'} brd ff:ff:ff:ff:ff:ff`;
  return [
    `${head}${upper === undefined ? '' : ` master ${upper.name}`} qlen 1000`,
    `${link}${details ? ' promiscuity 0' : ''}`,
    ...(details ? detailsOf(port, upper) : []),
    ...(port.alias === undefined ? [] : [`alias ${port.alias}`]),
  ].join('\\    ');
}

function detailsOf(port: DescribedPort, upper: DescribedPort | undefined): readonly string[] {
  const info = hasDevice(port) ? undefined : (infoWords[port.kind] ?? ownWords(port));
  const slave =
    upper?.kind === 'bond'
      ? `bond_slave state ACTIVE mii_status UP perm_hwaddr ${port.permanentMacAddress} ad_aggregator_id ${port.aggregatorId}`
      : upper?.kind === 'bridge'
        ? `bridge_slave state ${port.spanningTree} priority 32`
        : undefined;
  return [info, slave].filter((words) => words !== undefined);
}

function ownWords(port: DescribedPort): string | undefined {
  if (port.kind === 'vlan') return `vlan protocol 802.1Q id ${port.vlanId} <REORDER_HDR>`;
  return port.kind === 'bond' ? `bond mode ${port.aggregateMode} miimon 100` : undefined;
}

function upperOf(host: DescribedHost, port: DescribedPort): DescribedPort | undefined {
  return host.ports.find(
    ({ kind, lowerPorts }) =>
      (kind === 'bridge' || kind === 'bond') && lowerPorts?.includes(port.name),
  );
}

/** What `ip -o addr` prints of a host. */
export function ipAddrText(host: DescribedHost): string {
  const lines = host.ports.flatMap((port) =>
    (port.addresses ?? []).map((address) => {
      const family = address.includes(':') ? 'inet6' : 'inet';
      return `${indexOf(host, port)}: ${port.name}    ${family} ${address} scope global ${port.name}`;
    }),
  );
  return lines.join('\n');
}

/** What `ifconfig -a` prints of a host: that of BusyBox and old net-tools, or newer. */
export function ifconfigLinuxText(host: DescribedHost, form: 'old' | 'new'): string {
  return host.ports.map((port) => (form === 'old' ? oldBlock(port) : newBlock(port))).join('\n');
}

function oldBlock(port: DescribedPort): string {
  const loop = port.kind === 'loopback';
  const hardware = loop
    ? 'Link encap:Local Loopback  '
    : `Link encap:Ethernet  HWaddr ${port.macAddress?.toUpperCase()}  `;
  const [first = [], ...more] = chunked(port);
  return [
    `${cutName(port.name)}${hardware}`,
    ...first.map((address) => `          ${address}`),
    `          ${flagsOf(port).join(' ')}  MTU:${port.mtuBytes}  Metric:1`,
    `          RX packets:${port.rxFrames} errors:${port.rxErrors} dropped:${port.rxDropped} overruns:0 frame:0`,
    `          TX packets:${port.txFrames} errors:${port.txErrors} dropped:${port.txDropped} overruns:0 carrier:0`,
    '          collisions:0 txqueuelen:1000 ',
    `          RX bytes:${port.rxOctets} (774.3 MiB)  TX bytes:${port.txOctets} (573.1 MiB)`,
    '',
    ...more.flatMap((addresses, at) => [
      `${cutName(`${port.name}:${at + 1}`)}${hardware}`,
      ...addresses.map((address) => `          ${address}`),
      `          UP BROADCAST  MTU:1  Metric:1`,
      '',
    ]),
  ].join('\n');
}

/** Old net-tools print nine characters of a name and no more. */
function cutName(name: string): string {
  return `${name.slice(0, 9).padEnd(9)} `;
}

/** Each IPv4 address but the first has a name of its own. */
function chunked(port: DescribedPort): readonly (readonly string[])[] {
  const [first, ...more] = (port.addresses ?? []).filter((address) => !address.includes(':'));
  const v6 = (port.addresses ?? []).filter((address) => address.includes(':'));
  const v4Line = (address: string) => {
    const [local = '', length = ''] = address.split('/');
    return `inet addr:${local}  Bcast:0.0.0.0  Mask:${maskOf(length)}`;
  };
  const own = [
    ...(first === undefined ? [] : [v4Line(first)]),
    ...v6.map((address) => `inet6 addr: ${address} Scope:Global`),
  ];
  return [own, ...more.map((address) => [v4Line(address)])];
}

function newBlock(port: DescribedPort): string {
  const addresses = (port.addresses ?? []).map((address) => {
    const [local = '', length = ''] = address.split('/');
    return local.includes(':')
      ? `inet6 ${local}  prefixlen ${length}  scopeid 0x0<global>`
      : `inet ${local}  netmask ${maskOf(length)}`;
  });
  return [
    `${port.name}: flags=4163<${flagsOf(port).join(',')}>  mtu ${port.mtuBytes}`,
    ...[
      ...addresses,
      port.kind === 'loopback'
        ? 'loop  txqueuelen 1000'
        : `ether ${port.macAddress}  txqueuelen 1000  (Ethernet)`,
    ],
    `RX packets ${port.rxFrames}  bytes ${port.rxOctets} (774.3 MiB)`,
    `RX errors ${port.rxErrors}  dropped ${port.rxDropped}  overruns 0  frame 0`,
    `TX packets ${port.txFrames}  bytes ${port.txOctets} (573.1 MiB)`,
    `TX errors ${port.txErrors}  dropped ${port.txDropped} overruns 0  carrier 0  collisions 0`,
  ]
    .join('\n        ')
    .concat('\n');
}

function flagsOf(port: DescribedPort): readonly string[] {
  const up = port.adminUp !== false;
  const running = up && port.operUp !== false;
  return [
    ...(up ? ['UP'] : []),
    port.kind === 'loopback' ? 'LOOPBACK' : 'BROADCAST',
    ...(running ? ['RUNNING'] : []),
    'MULTICAST',
  ];
}

function maskOf(length: string): string {
  const ones = Number.parseInt(length, 10);
  const mask = (ones === 0 ? 0 : 0xffff_ffff << (32 - ones)) >>> 0;
  return [24, 16, 8, 0].map((shift) => (mask >>> shift) & 255).join('.');
}

/** What `/proc/net/vlan/config` holds. */
export function procVlanText(host: DescribedHost): string {
  const rows = host.ports
    .filter(({ kind }) => kind === 'vlan')
    .map(({ name, vlanId, lowerPorts }) => `${name.padEnd(15)}| ${vlanId}  | ${lowerPorts?.[0]}`);
  const head = ['VLAN Dev name    | VLAN ID', 'Name-Type: VLAN_NAME_TYPE_RAW_PLUS_VID_NO_PAD'];
  return [...head, ...rows].join('\n');
}

/** What `/proc/net/bonding/NAME` holds for an administrator. */
export function procBondingText(host: DescribedHost, bond: DescribedPort): string {
  const members = host.ports.filter(({ name }) => bond.lowerPorts?.includes(name));
  return [
    'Ethernet Channel Bonding Driver: v3.7.1 (April 27, 2011)',
    '',
    'Bonding Mode: IEEE 802.3ad Dynamic link aggregation',
    'MII Status: up',
    '',
    '802.3ad info',
    'LACP rate: slow',
    `System MAC address: ${bond.macAddress}`,
    ...members.flatMap((member) => [
      '',
      `Slave Interface: ${member.name}`,
      'MII Status: up',
      `Permanent HW addr: ${member.permanentMacAddress}`,
      `Aggregator ID: ${member.aggregatorId}`,
      'details actor lacp pdu:',
      `    system mac address: ${bond.macAddress}`,
      `    port state: ${lacpBitsOf(member.lacpActor ?? [])}`,
      'details partner lacp pdu:',
      `    system mac address: ${member.lacpPartnerSystem ?? '00:00:00:00:00:00'}`,
      `    port state: ${lacpBitsOf(member.lacpPartner ?? [])}`,
    ]),
  ].join('\n');
}

/** What `ip route show` prints as text. */
export function ipRouteText(rows: readonly RouteRow[], v6: boolean): string {
  return rows
    .filter(({ prefix }) => prefix.includes(':') === v6)
    .map(({ prefix, device, gateway, mtuBytes, metric }) =>
      [
        prefix.endsWith('/0') ? 'default' : prefix,
        ...(gateway === undefined ? [] : ['via', gateway]),
        'dev',
        device,
        ...(metric === undefined ? [] : ['metric', metric]),
        ...(mtuBytes === undefined ? [] : ['mtu', mtuBytes]),
      ].join(' '),
    )
    .join('\n');
}

/** What `/proc/net/route` holds on a processor that puts the last byte of a number first. */
export function procRouteText(rows: readonly RouteRow[]): string {
  const hex = (address: string) =>
    address
      .split('.')
      .reverse()
      .map((octet) => Number.parseInt(octet, 10).toString(16).padStart(2, '0').toUpperCase())
      .join('');
  const lines = rows
    .filter(({ prefix }) => !prefix.includes(':'))
    .map(({ prefix, device, gateway, mtuBytes, metric }) => {
      const [address = '', length = ''] = prefix.split('/');
      const flags = gateway === undefined ? '0001' : '0003';
      const via = hex(gateway ?? '0.0.0.0');
      const cells = [device, hex(address), via, flags, 0, 0, metric ?? 0, hex(maskOf(length))];
      return [...cells, mtuBytes ?? 0, 0, 0].join('\t');
    });
  const titles =
    'Iface\tDestination\tGateway \tFlags\tRefCnt\tUse\tMetric\tMask\t\tMTU\tWindow\tIRTT';
  return [titles, ...lines].join('\n');
}
