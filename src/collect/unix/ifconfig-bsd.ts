import { isLiteralAddress } from './literal.ts';
import { decimalNumber, firstGroup, macText, mtuNumber, present, wholeNumber } from './text.ts';

/** One interface as `ifconfig -a -v` of macOS tells it. */
export interface Ifconfig {
  /** As printed. Untrusted. */
  readonly name: string;
  readonly flags: readonly string[];
  readonly mtuBytes?: number;
  readonly mtuMaxBytes?: number;
  readonly ifIndex?: number;
  readonly macAddress?: string;
  /** Addresses with prefix length, link-local left out. */
  readonly addresses: readonly string[];
  /** What follows `media:`. Untrusted. */
  readonly media?: string;
  readonly active?: boolean;
  /** `Ethernet`, `Wi-Fi`, ... of `-v`. Untrusted. */
  readonly type?: string;
  readonly linkRateMbps?: number;
  readonly vlanId?: number;
  /** Parent of a VLAN, members of a bridge or bond. Untrusted. */
  readonly lower: readonly string[];
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
  return present<Ifconfig>({
    name,
    flags: flags.split(','),
    mtuBytes: mtuNumber(wholeNumber(firstGroup(rest, / mtu (\d+)(?=\s|$)/))),
    mtuMaxBytes: mtuNumber(wholeNumber(one(/^max mtu: (\d+)$/))),
    ifIndex: wholeNumber(firstGroup(rest, / index (\d+)(?=\s|$)/) ?? one(/^index (\d+)$/)),
    macAddress: macText(one(/^ether ([0-9a-f:]{17})(?=\s|$)/i)),
    addresses: lines.flatMap((line) => addressOf(line) ?? []),
    media: one(/^media: (.+)$/),
    active: status === 'active' ? true : status === 'inactive' ? false : undefined,
    type: one(/^type: (.+)$/),
    linkRateMbps: rateMbps(one(/^link rate: (\d+(?:\.\d+)? [KMG]bps)$/)),
    vlanId: vlanId(one(/^vlan: (\d{1,4})(?=\s|$)/)),
    lower: lowerOf(lines),
    supportedModes: supportedOf(lines),
  });
}

function addressOf(line: string): string | undefined {
  const v4 = /^inet (\S+)(?: --> \S+)? netmask 0x([0-9a-f]{8})(?=\s|$)/.exec(line);
  if (v4 !== null) {
    const [, address = '', mask = ''] = v4;
    const length = prefixOf(mask);
    const linkLocal = address.startsWith('169.254.');
    if (linkLocal || length === undefined || !isLiteralAddress(address)) return undefined;
    return `${address}/${length}`;
  }
  const v6 = /^inet6 ([0-9a-f:.]+)(?: --> \S+)? prefixlen (\d{1,3})(?=\s|$)/.exec(line);
  const [, address = '', length = ''] = v6 ?? [];
  if (!isLiteralAddress(address) || /^fe[89ab]/.test(address)) return undefined;
  return `${address}/${length}`;
}

/** Prefix length of a hexadecimal netmask; undefined where its ones are not all in front. */
function prefixOf(mask: string): number | undefined {
  const bits = Number.parseInt(mask, 16).toString(2).padStart(32, '0');
  return /^1*0*$/.test(bits) ? bits.replace(/0+$/, '').length : undefined;
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
    const bond = firstGroup(line, /^bond interfaces: (.+)$/);
    const member = firstGroup(line, /^member: (\S+)(?=\s|$)/);
    if (parent !== undefined && parent !== '<none>') names.push(parent);
    if (bond !== undefined && bond !== '<none>') names.push(...bond.split(/\s+/));
    if (member !== undefined) names.push(member);
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
