import type { DescribedHost, DescribedPort } from './described-host.ts';
import type { Printed } from './framed.ts';
import { busLines } from './linux-bus.ts';
import { hasDevice, indexOf } from './linux-link.ts';

/** What the script prints of one port of a Linux host: `/sys`, then `ethtool` where it has a device. */
export function linuxPortSections(host: DescribedHost, port: DescribedPort): readonly Printed[] {
  const sections = [sysfsOf(host, port)];
  if (!hasDevice(port) || port.kind === 'wireless') return sections;
  return [
    ...sections,
    { section: `ethtool ${port.name}`, output: ethtoolOf(port) },
    {
      section: `ethtool-driver ${port.name}`,
      output: `driver: ${port.driver ?? ''}\nversion: ${port.driverVersion ?? ''}\nbus-info: 0000:03:00.0\n`,
    },
  ];
}

const counters = [
  ['rx_bytes', 'rxOctets'],
  ['tx_bytes', 'txOctets'],
  ['rx_packets', 'rxFrames'],
  ['tx_packets', 'txFrames'],
  ['rx_errors', 'rxErrors'],
  ['tx_errors', 'txErrors'],
  ['rx_dropped', 'rxDropped'],
  ['tx_dropped', 'txDropped'],
  ['rx_crc_errors', 'rxCrcErrors'],
  ['rx_frame_errors', 'rxAlignmentErrors'],
  ['rx_length_errors', 'rxTooLong'],
] as const;

function sysfsOf(host: DescribedHost, port: DescribedPort): Printed {
  const up = port.adminUp !== false;
  const carrier = up && port.operUp !== false;
  const device = hasDevice(port);
  const line = carrier && port.kind !== 'loopback';
  const deviceType = { vlan: 'vlan', bridge: 'bridge', bond: 'bond', wireless: 'wlan' }[
    port.kind as string
  ];
  const lines = [
    ...(device ? ['@device'] : []),
    ...(port.kind === 'wireless' ? ['@wireless'] : []),
    ...(port.kind === 'bond' ? ['@bond'] : []),
    ...(port.kind === 'bridge' ? ['@bridge'] : []),
    ...(port.lowerPorts ?? []).map((name) => `@lower lower_${name}`),
    ...(device && port.driver !== undefined ? [`@driver ${port.driver}`] : []),
    ...(deviceType === undefined ? [] : [`uevent:DEVTYPE=${deviceType}`]),
    `mtu:${port.mtuBytes ?? ''}`,
    ...(line ? [`speed:${port.speedMbps ?? -1}`, `duplex:${port.duplex ?? 'unknown'}`] : []),
    `operstate:${carrier ? 'up' : 'down'}`,
    ...(up ? [`carrier:${carrier ? 1 : 0}`] : []),
    `flags:${up ? '0x1003' : '0x1002'}`,
    `address:${port.macAddress ?? '00:00:00:00:00:00'}`,
    `addr_assign_type:${port.permanentMacAddress === port.macAddress ? 0 : 3}`,
    `type:${port.kind === 'loopback' ? 772 : port.kind === 'tunnel' ? 65534 : 1}`,
    `ifindex:${indexOf(host, port)}`,
    ...counters.map(([file, fact]) => `statistics/${file}:${port[fact] ?? 0}`),
    `carrier_changes:${port.carrierChanges ?? 1}`,
    ...(device ? busLines(port) : []),
  ];
  const refused = line ? [] : ['grep: speed: Invalid argument', 'grep: duplex: Invalid argument'];
  return {
    section: `sysfs ${port.name}`,
    output: lines.join('\n'),
    words: refused.join('\n'),
    status: refused.length > 0 ? 2 : 0,
  };
}

function ethtoolOf(port: DescribedPort): string {
  const carrier = port.adminUp !== false && port.operUp !== false;
  const known = carrier && port.kind !== 'virtual';
  const lines = [
    `Settings for ${port.name}:`,
    '\tSupported ports: [ TP ]',
    ...modes('Supported link modes:   ', port.supportedModes ?? ['Not reported']),
    '\tSupports auto-negotiation: Yes',
    ...modes('Advertised link modes:  ', port.advertisedModes ?? ['Not reported']),
    '\tAdvertised auto-negotiation: Yes',
    ...(port.partnerModes === undefined
      ? []
      : modes('Link partner advertised link modes:  ', port.partnerModes)),
    ...(port.partnerAutoNegotiation === undefined
      ? []
      : [`\tLink partner advertised auto-negotiation: ${yesNo(port.partnerAutoNegotiation)}`]),
    `\tSpeed: ${known && port.speedMbps !== undefined ? `${port.speedMbps}Mb/s` : 'Unknown!'}`,
    `\tDuplex: ${known && port.duplex !== undefined ? capital(port.duplex) : 'Unknown! (255)'}`,
    `\tAuto-negotiation: ${port.autoNegotiation === false ? 'off' : 'on'}`,
    `\tPort: ${port.mediaText ?? 'Twisted Pair'}`,
    `\tLink detected: ${linkDetected(carrier, port.linkText)}`,
    ...(port.linkDownEvents === undefined ? [] : [`\tLink Down Events: ${port.linkDownEvents}`]),
  ];
  return lines.join('\n');
}

/** `ethtool` puts further modes on lines of their own, under the first. */
function modes(title: string, names: readonly string[]): readonly string[] {
  const indent = ' '.repeat(title.length);
  return names.map((name, i) => `\t${i === 0 ? title : indent}${name}`);
}

function linkDetected(carrier: boolean, linkText: string | undefined): string {
  if (carrier) return 'yes';
  return linkText === undefined ? 'no' : `no (${linkText})`;
}

function yesNo(flag: boolean): string {
  return flag ? 'Yes' : 'No';
}

function capital(word: string): string {
  return `${word.slice(0, 1).toUpperCase()}${word.slice(1)}`;
}
