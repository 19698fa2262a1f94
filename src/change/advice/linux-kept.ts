import type { PortReadFacts } from '../../facts/port-facts.ts';
import type { KeptBy } from './types.ts';
import type { LinkMode } from './wanted.ts';

const macPattern = /^[0-9a-f]{2}(:[0-9a-f]{2}){5}$/;

/** Groups of netplan(5) by kind of port; any other kind is not configured there. */
const yamlGroups: ReadonlyMap<string, string> = new Map([
  ['physical', 'ethernets'],
  ['bond', 'bonds'],
  ['bridge', 'bridges'],
  ['vlan', 'vlans'],
]);

/**
 * Where Linux may keep an MTU. What was read does not tell which of them owns the port, so all are
 * given: `MTUBytes=` (systemd.network(5)), `mtu` (netplan(5)), `802-3-ethernet.mtu` (nmcli(1),
 * nm-settings(5)), `mtu` of the methods static and manual (interfaces(5); from memory).
 */
export function keptMtu(device: string, mtu: number, port: PortReadFacts | undefined): KeptBy[] {
  return [
    {
      by: 'systemd-networkd',
      lines: [
        `# in the Network File that "networkctl status ${device}" names, or a drop-in beside it`,
        '[Link]',
        `MTUBytes=${mtu}`,
      ],
    },
    ...yamlMtu(device, mtu, port),
    {
      by: 'NetworkManager',
      lines: [`nmcli connection modify ${profileOf(device)} 802-3-ethernet.mtu ${mtu}`],
    },
    {
      by: 'ifupdown',
      lines: [
        `# in /etc/network/interfaces, below "iface ${device} inet static" or "manual"`,
        `    mtu ${mtu}`,
        `# below "iface ${device} inet dhcp"`,
        `    post-up ip link set dev ${device} mtu ${mtu}`,
      ],
    },
  ];
}

function yamlMtu(device: string, mtu: number, port: PortReadFacts | undefined): KeptBy[] {
  const group = yamlGroups.get(port?.kind ?? '');
  if (group === undefined) return [];
  const mac = group === 'ethernets' ? macOf(port) : undefined;
  // netplan(5): an MTU does not work reliably where networkd matches a port by its name alone.
  const match = mac === undefined ? [] : ['      match:', `        macaddress: "${mac}"`];
  return [
    {
      by: 'YAML under /etc/netplan',
      lines: [
        `# in the file that names ${device}; "netplan try" goes back by itself unless confirmed`,
        'network:',
        `  ${group}:`,
        `    "${device}":`,
        ...match,
        `      mtu: ${mtu}`,
      ],
    },
  ];
}

/**
 * Where Linux may keep speed, duplex and negotiation: `AutoNegotiation=`, `BitsPerSecond=`,
 * `Duplex=` (systemd.link(5)), `802-3-ethernet.*` (nm-settings(5)), the ethtool lines of
 * interfaces(5) (from memory).
 */
export function keptLinkMode(
  device: string,
  mode: LinkMode,
  port: PortReadFacts | undefined,
): KeptBy[] {
  const mac = macOf(port);
  const { only } = mode;
  const negotiate = mode.negotiate ? 'yes' : 'no';
  const link = only === undefined ? [] : [`BitsPerSecond=${only.speedMbps}M`];
  const duplex = only === undefined ? [] : [`Duplex=${only.duplex}`];
  const manager = only === undefined ? ['0', '""'] : [`${only.speedMbps}`, only.duplex];
  const lines = only && [`    link-speed ${only.speedMbps}`, `    link-duplex ${only.duplex}`];
  return [
    {
      by: 'systemd.link file',
      lines: [
        '# in /etc/systemd/network/*.link; only the first file that matches a port counts',
        '[Match]',
        mac === undefined ? `OriginalName=${device}` : `PermanentMACAddress=${mac}`,
        '[Link]',
        `AutoNegotiation=${negotiate}`,
        ...link,
        ...duplex,
      ],
    },
    {
      by: 'NetworkManager',
      lines: [
        `nmcli connection modify ${profileOf(device)} 802-3-ethernet.auto-negotiate ${negotiate} 802-3-ethernet.speed ${manager[0]} 802-3-ethernet.duplex ${manager[1]}`,
      ],
    },
    {
      by: 'ifupdown',
      lines: [
        `# in /etc/network/interfaces, below "iface ${device}"; needs the package of ethtool`,
        ...(lines ?? []),
        `    ethernet-autoneg ${mode.negotiate ? 'on' : 'off'}`,
      ],
    },
  ];
}

/** The connection profile in use on the port, asked for at the time: nobody read its name. */
function profileOf(device: string): string {
  return `"$(nmcli --escape no --get-values GENERAL.CONNECTION device show ${device})"`;
}

function macOf(port: PortReadFacts | undefined): string | undefined {
  const mac = port?.permanentMacAddress;
  return mac !== undefined && macPattern.test(mac) ? mac : undefined;
}
