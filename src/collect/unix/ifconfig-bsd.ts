import {
  type BridgeMember,
  bridgeMembersOf,
  type LagMember,
  lagMembersOf,
} from './ifconfig-layers.ts';
import { type IfconfigModule, parseIfconfigModule } from './ifconfig-module.ts';
import { isLiteralAddress } from './literal.ts';
import { prefixLengthOf } from './netmask.ts';
import { decimalNumber, firstGroup, macText, mtuNumber, present, wholeNumber } from './text.ts';

/** One interface as `ifconfig -a -v` of macOS and FreeBSD tells it. */
export interface Ifconfig {
  /** As printed. Untrusted. */
  readonly name: string;
  readonly flags: readonly string[];
  readonly mtuBytes?: number;
  readonly mtuMaxBytes?: number;
  readonly ifIndex?: number;
  readonly macAddress?: string;
  /** Burnt in, where it is another than the one in use (FreeBSD). */
  readonly permanentMacAddress?: string;
  /** What the owner calls it (FreeBSD). Untrusted. */
  readonly alias?: string;
  /** `lagg`, `vlan`, ... (FreeBSD). Untrusted. */
  readonly groups: readonly string[];
  /** Name that the driver gave it, as `ix0` (FreeBSD). Untrusted. */
  readonly driverName?: string;
  /** Addresses with prefix length, link-local left out. */
  readonly addresses: readonly string[];
  /** What follows `media:`. Untrusted. */
  readonly media?: string;
  readonly active?: boolean;
  /** Why there is no carrier, where the driver says it (FreeBSD). Untrusted. */
  readonly linkText?: string;
  /** `Ethernet`, `Wi-Fi`, ... of `-v`. Untrusted. */
  readonly type?: string;
  readonly linkRateMbps?: number;
  readonly vlanId?: number;
  /** Parent of a VLAN, members of a bridge or bond. Untrusted. */
  readonly lower: readonly string[];
  /** Protocol of an aggregate, as `lacp` (FreeBSD). */
  readonly lagProtocol?: string;
  /** Members of an aggregate with their states. */
  readonly lagMembers: readonly LagMember[];
  /** Members of a bridge with their states. */
  readonly bridgeMembers: readonly BridgeMember[];
  /** Module in the port (FreeBSD). */
  readonly module?: IfconfigModule;
  /** Modes of `-m`, as `10Gbase-T full-duplex`, in plain characters. */
  readonly supportedModes?: readonly string[];
}

const interfacesMax = 512;
const modesMax = 128;

/** Reads `ifconfig -a`, with or without `-v` and `-m`: single lines, since releases add others. */
export function parseIfconfigBsd(output: string): readonly Ifconfig[] {
  const blocks: { head: RegExpExecArray; lines: string[] }[] = [];
  for (const line of output.split('\n')) {
    const head = /^([^\s:]+): flags=[0-9a-f]+<([^>]*)>(.*)$/.exec(line);
    if (head !== null) blocks.push({ head, lines: [] });
    else if (/^\s/.test(line)) blocks.at(-1)?.lines.push(line.trim());
  }
  return blocks.slice(0, interfacesMax).map(({ head, lines }) => interfaceOf(head, lines));
}

function interfaceOf(head: RegExpExecArray, lines: readonly string[]): Ifconfig {
  const [, name = '', flags = '', rest = ''] = head;
  const one = (pattern: RegExp) =>
    lines.map((line) => firstGroup(line, pattern)).find((text) => text !== undefined);
  const status = one(/^status: (.+)$/);
  const lagMembers = lagMembersOf(lines);
  const bridgeMembers = bridgeMembersOf(lines);
  return present<Ifconfig>({
    name,
    flags: flags.split(','),
    mtuBytes: mtuNumber(wholeNumber(firstGroup(rest, / mtu (\d+)(?=\s|$)/))),
    mtuMaxBytes: mtuNumber(wholeNumber(one(/^max mtu: (\d+)$/))),
    ifIndex: wholeNumber(firstGroup(rest, / index (\d+)(?=\s|$)/) ?? one(/^index (\d+)$/)),
    macAddress: macText(one(/^ether ([0-9a-f:]{17})(?=\s|$)/i)),
    permanentMacAddress: macText(one(/^hwaddr ([0-9a-f:]{17})(?=\s|$)/i)),
    alias: one(/^description: (.+)$/),
    groups: (one(/^groups: (.+)$/) ?? '').split(/\s+/).filter((group) => group !== ''),
    driverName: one(/^drivername: (\S+)$/),
    addresses: lines.flatMap((line) => addressOf(line) ?? []),
    media: one(/^media: (.+)$/),
    active: activeOf(status ?? ''),
    linkText: firstGroup(status ?? '', /^no carrier \((.+)\)$/),
    type: one(/^type: (.+)$/),
    linkRateMbps: rateMbps(one(/^link rate: (\d+(?:\.\d+)? [KMG]bps)$/)),
    vlanId: vlanId(one(/^vlan: (\d{1,4})(?=\s|$)/)),
    lower: [...lowerOf(lines), ...[...lagMembers, ...bridgeMembers].map(({ name: of }) => of)],
    lagProtocol: one(/^laggproto (\w{1,32})(?=\s|$)/),
    lagMembers,
    bridgeMembers,
    module: parseIfconfigModule(lines),
    supportedModes: supportedOf(lines),
  });
}

function activeOf(status: string): boolean | undefined {
  if (status === 'active' || status === 'associated') return true;
  return status === 'inactive' || /^no carrier(?: \(|$)/.test(status) ? false : undefined;
}

/** A netmask is hexadecimal, unless the account's IFCONFIG_FORMAT says otherwise (FreeBSD). */
const inet =
  /^inet (\d[\d.]{6,14})(?:\/(\d{1,2}))?(?: --> \S+)?(?: netmask (0x[0-9a-f]{8}|\d[\d.]{6,14}))?(?=\s|$)/;

function addressOf(line: string): string | undefined {
  const v4 = inet.exec(line);
  if (v4 !== null) {
    const [, address = '', plain, mask = ''] = v4;
    const length = plain === undefined ? prefixLengthOf(mask) : wholeNumber(plain);
    const linkLocal = address.startsWith('169.254.');
    if (linkLocal || length === undefined || !isLiteralAddress(address)) return undefined;
    return `${address}/${length}`;
  }
  const v6 = /^inet6 ([0-9a-f:.]+)(?:%\S+)?(?: --> \S+)?(?:\/| prefixlen )(\d{1,3})(?=\s|$)/.exec(
    line,
  );
  const [, address = '', length = ''] = v6 ?? [];
  if (!isLiteralAddress(address) || /^fe[89ab]/.test(address)) return undefined;
  return `${address}/${length}`;
}

/** Speed in Mb/s of `10.00 Gbps`. */
function rateMbps(text: string | undefined): number | undefined {
  const [number, unit] = (text ?? '').split(' ');
  const value = decimalNumber(number);
  if (value === undefined || value === 0) return undefined;
  const factor = unit === 'Gbps' ? 1000 : unit === 'Mbps' ? 1 : 0.001;
  return Math.round(value * factor * 1000) / 1000;
}

function vlanId(text: string | undefined): number | undefined {
  const id = wholeNumber(text);
  return id !== undefined && id > 0 && id <= 4095 ? id : undefined;
}

function lowerOf(lines: readonly string[]): readonly string[] {
  const names: string[] = [];
  for (const line of lines) {
    const parent = firstGroup(line, /^vlan: \d+ .*parent interface: (\S+)$/);
    if (parent !== undefined && parent !== '<none>') names.push(parent);
  }
  return names;
}

function supportedOf(lines: readonly string[]): readonly string[] | undefined {
  const start = lines.findIndex((line) => /^supported media:/.test(line));
  if (start < 0) return undefined;
  const modes = lines.slice(start + 1).flatMap((line) => {
    const [, type = '', options = ''] =
      /^media ([\w/.+-]{1,64})((?: mediaopt [\w-]{1,32}){0,8})$/.exec(line) ?? [];
    return type === '' || /^(?:none|autoselect)$/.test(type)
      ? []
      : [`${type}${options.replaceAll(' mediaopt', '')}`];
  });
  return modes.length === 0 ? undefined : [...new Set(modes)].slice(0, modesMax);
}
