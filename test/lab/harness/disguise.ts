import { mustInNs } from './namespaces.ts';
import type { Topology } from './topology.ts';

/** What the programs of a disguised host say of its port. */
export interface CopperLine {
  readonly speedMbps: 100 | 1000 | 10_000;
  readonly duplex: 'Full' | 'Half';
}

const begin = String.raw`
set -e
port=$1
device=/run/disguise/upper/device
mkdir -p "$device" /run/disguise/driver/copper10g
ln -s ../../driver/copper10g "$device/driver"
mount -t overlay overlay -o "lowerdir=/run/disguise/upper:/sys/devices/virtual/net/$port" \
  "/sys/devices/virtual/net/$port"

ip=$(readlink -f "$(command -v ip)")
cp "$ip" /run/disguise/ip-itself
cat >/run/disguise/ip <<'END'
#!/bin/sh
said=$(/run/disguise/ip-itself "$@")
status=$?
printf '%s\n' "$said" | sed 's/"linkinfo":{"info_kind":"veth"},//'
exit "$status"
END
cat >/run/disguise/ethtool <<'END'
#!/bin/sh
[ "$1" = -i ] && exec printf 'driver: copper10g\nversion: 1\n'
exec cat /run/disguise/line
END
chmod 755 /run/disguise/ip /run/disguise/ethtool
mount --bind /run/disguise/ip "$ip"
mount --bind /run/disguise/ethtool "$(readlink -f "$(command -v ethtool)")"
`;

const end = `
umount "$(readlink -f "$(command -v ethtool)")"
umount "$(readlink -f "$(command -v ip)")"
umount "/sys/devices/virtual/net/$1"
rm -r /run/disguise
`;

/**
 * Gives a host's port a device behind it, as far as programs inside can tell, so that its line is
 * judged. A cable between namespaces has no hardware: `ip` says so and `/sys` shows no
 * device. MTU, state and counters stay the real ones; what is put on is a device, and an ethtool
 * that prints the text of a copper port (format: ethtool 6.1).
 */
export async function disguise(
  topology: Topology,
  [node, port]: readonly [string, string],
  line: CopperLine,
): Promise<void> {
  await mustInNs(topology.machine(node), ['sh', '-c', begin, 'sh', port]);
  await setLine(topology, node, line);
}

export async function undisguise(
  topology: Topology,
  [node, port]: readonly [string, string],
): Promise<void> {
  await mustInNs(topology.machine(node), ['sh', '-ec', end, 'sh', port]);
}

/** Whether accounts other than root may run the ethtool of a disguised host. */
export async function allowEthtool(
  topology: Topology,
  node: string,
  allowed: boolean,
): Promise<void> {
  const mode = allowed ? '755' : '700';
  await mustInNs(topology.machine(node), ['chmod', mode, '/run/disguise/ethtool']);
}

/** What the disguised port negotiated. */
export async function setLine(
  topology: Topology,
  node: string,
  { speedMbps, duplex }: CopperLine,
): Promise<void> {
  const modes = ['100baseT/Half', '100baseT/Full', '1000baseT/Full', '10000baseT/Full'];
  const list = (name: string) => `\t${name} link modes:   ${modes.join(' ')}`;
  const text = [
    'Settings for eth0:',
    '\tSupported ports: [ TP ]',
    list('Supported'),
    '\tSupports auto-negotiation: Yes',
    list('Advertised'),
    '\tAdvertised auto-negotiation: Yes',
    list('Link partner advertised'),
    `\tSpeed: ${speedMbps}Mb/s`,
    `\tDuplex: ${duplex}`,
    '\tAuto-negotiation: on',
    '\tPort: Twisted Pair',
    '\tLink detected: yes',
  ].join('\n');
  const argv = ['sh', '-c', 'cat >/run/disguise/line'];
  await mustInNs(topology.machine(node), argv, { input: `${text}\n` });
}
