import type { DescribedHost, DescribedPort } from './described-host.ts';

/** What `ifconfig -a -v -m` prints of a host. */
export function ifconfigText(host: DescribedHost): string {
  return host.ports.map((port) => `${blockOf(host, port).join('\n')}\n`).join('');
}

/** What `networksetup -listallhardwareports` prints of a host. */
export function hardwarePortsText(host: DescribedHost): string {
  const blocks = host.ports
    .filter(isHardware)
    .map(
      (port) =>
        `\nHardware Port: ${hardwareName(port)}\nDevice: ${port.name}\nEthernet Address: ${port.macAddress ?? 'N/A'}\n`,
    );
  return `${blocks.join('')}\nVLAN Configurations\n===================\n`;
}

export function isHardware(port: DescribedPort): boolean {
  return port.kind === 'physical' || port.kind === 'wireless';
}

/** What `netstat -ibn` prints of a host. */
export function netstatText(host: DescribedHost): string {
  const rows = host.ports.map((port) => {
    const counts = [
      port.rxFrames ?? 0,
      port.rxErrors ?? 0,
      port.rxOctets ?? 0,
      port.txFrames ?? 0,
      port.txErrors ?? 0,
      port.txOctets ?? 0,
      0,
    ];
    const star = port.adminUp === false ? '*' : '';
    const index = indexOf(host, port);
    const cells = [`${port.name}${star}`, port.mtuBytes ?? 1500, `<Link#${index}>`];
    return [...cells, ...(port.macAddress === undefined ? [] : [port.macAddress]), ...counts].join(
      '  ',
    );
  });
  const header = 'Name Mtu Network Address Ipkts Ierrs Ibytes Opkts Oerrs Obytes Coll';
  return [header, ...rows].join('\n');
}

function indexOf(host: DescribedHost, port: DescribedPort): number {
  return port.ifIndex ?? host.ports.indexOf(port) + 1;
}

function hardwareName(port: DescribedPort): string {
  return port.alias ?? (port.kind === 'wireless' ? 'Wi-Fi' : 'Ethernet');
}

function blockOf(host: DescribedHost, port: DescribedPort): readonly string[] {
  const up = port.adminUp !== false;
  const active = up && port.operUp !== false;
  const flags = [...(up ? ['UP'] : []), 'BROADCAST', 'RUNNING', 'SIMPLEX', 'MULTICAST'].join(',');
  const line = isHardware(port);
  const lower = port.lowerPorts ?? [];
  return [
    `${port.name}: flags=8863<${flags}> mtu ${port.mtuBytes} index ${indexOf(host, port)}`,
    ...(port.macAddress === undefined ? [] : [`\tether ${port.macAddress}`]),
    ...(port.addresses ?? []).map(addressLine),
    ...(port.kind === 'vlan' ? [`\tvlan: ${port.vlanId} parent interface: ${lower[0]}`] : []),
    ...(port.kind === 'bond' ? [`\tbond interfaces: ${lower.join(' ')}`] : []),
    ...(port.kind === 'bridge' ? lower.map((name) => `\tmember: ${name} flags=3<LEARNING>`) : []),
    ...(line || port.kind === 'vlan' ? [`\tmedia: ${mediaText(port, active)}`] : []),
    ...(port.operUp === undefined ? [] : [`\tstatus: ${active ? 'active' : 'inactive'}`]),
    ...(line ? [`\ttype: ${port.kind === 'wireless' ? 'Wi-Fi' : 'Ethernet'}`] : []),
    ...(port.mtuMaxBytes === undefined ? [] : [`\tmax mtu: ${port.mtuMaxBytes}`]),
    ...supported(port),
  ];
}

/** One address as `ifconfig` prints it. */
export function addressLine(text: string): string {
  const [local = '', length = ''] = text.split('/');
  if (local.includes(':')) return `\tinet6 ${local} prefixlen ${length} autoconf secured`;
  const ones = Number.parseInt(length, 10);
  const mask = (ones === 0 ? 0 : 0xffff_ffff << (32 - ones)) >>> 0;
  return `\tinet ${local} netmask 0x${mask.toString(16).padStart(8, '0')}`;
}

/** The medium in use stands in parentheses only where it differs from the one that is set. */
function mediaText(port: DescribedPort, active: boolean): string {
  if (port.mediaText !== undefined) return port.mediaText;
  if (!active) return 'autoselect (none)';
  const duplex = port.duplex === undefined ? '' : ` <${port.duplex}-duplex>`;
  if (port.speedMbps === undefined) return `autoselect${duplex}`;
  const medium = `${mediumOf(port.speedMbps)}${duplex}`;
  return port.autoNegotiation === false ? medium : `autoselect (${medium})`;
}

function mediumOf(speedMbps: number): string {
  const names: Readonly<Record<number, string>> = {
    10: '10baseT/UTP',
    100: '100baseTX',
    1000: '1000baseT',
    2500: '2500Base-T',
    5000: '5000Base-T',
    10000: '10Gbase-T',
  };
  return names[speedMbps] ?? `${speedMbps}Base-T`;
}

function supported(port: DescribedPort): readonly string[] {
  if (port.supportedModes === undefined) return [];
  return [
    '\tsupported media:',
    '\t\tmedia autoselect',
    ...port.supportedModes.map((mode) => `\t\tmedia ${mode.replaceAll(' ', ' mediaopt ')}`),
  ];
}
