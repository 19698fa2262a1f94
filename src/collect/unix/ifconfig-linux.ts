import { isLiteralAddress } from './literal.ts';
import { prefixLengthOf } from './netmask.ts';
import { firstGroup, lineLengthMax, macText, mtuNumber, present, wholeNumber } from './text.ts';

/** One interface as `ifconfig -a` of Linux tells it. */
export interface IfconfigLinux {
  /** Untrusted. */
  readonly name: string;
  readonly up: boolean;
  /** Up and with carrier. */
  readonly running: boolean;
  readonly loopback: boolean;
  readonly mtuBytes?: number;
  readonly macAddress?: string;
  /** Addresses with prefix length, link-local left out. */
  readonly addresses: readonly string[];
  readonly rxFrames?: number;
  readonly txFrames?: number;
  readonly rxErrors?: number;
  readonly txErrors?: number;
  readonly rxDropped?: number;
  readonly txDropped?: number;
  readonly rxOctets?: number;
  readonly txOctets?: number;
}

const interfacesMax = 512;

/**
 * Reads `ifconfig -a` of BusyBox and of net-tools, old (`Link encap:Ethernet  HWaddr ...`) and
 * newer (`eth0: flags=4163<UP,...>  mtu 1500`). Second addresses stand under a name of their own,
 * `eth0:1`, and belong to the port before the colon.
 */
export function parseIfconfigLinux(output: string): readonly IfconfigLinux[] {
  const blocks = new Map<string, string[]>();
  let open: string[] | undefined;
  for (const line of output.split('\n')) {
    if (line.length > lineLengthMax) continue;
    const [, name, more] = /^([^\s:]+(?::\d+)?):? +((?:flags=\d|Link encap:).*)$/.exec(line) ?? [];
    if (name !== undefined && more !== undefined) {
      const port = name.replace(/:\d+$/, '');
      const known = blocks.get(port);
      open = known ?? [];
      // Only its addresses are taken from the block of a second address.
      if (known === undefined) open.push(more);
      blocks.set(port, open);
    } else if (/^\s+\S/.test(line)) open?.push(line.trim());
  }
  return [...blocks].slice(0, interfacesMax).map(([name, lines]) => interfaceOf(name, lines));
}

function interfaceOf(name: string, lines: readonly string[]): IfconfigLinux {
  const text = lines.join('\n');
  const number = (pattern: RegExp) => wholeNumber(firstGroup(text, pattern));
  const listed = firstGroup(text, /^flags=\d+<([^>]*)>/);
  const flags = listed?.split(',') ?? (firstGroup(text, /^([A-Z ]+?) +MTU:\d/m) ?? '').split(' ');
  const count = (way: 'RX' | 'TX', word: string) =>
    number(
      new RegExp(
        `^${way} (?:packets[: ]\\d+ +)?(?:errors[: ]\\d+ +)?${word}[: ](\\d+)(?= |$)`,
        'm',
      ),
    );
  return present<IfconfigLinux>({
    name,
    up: flags.includes('UP'),
    running: flags.includes('UP') && flags.includes('RUNNING'),
    loopback: flags.includes('LOOPBACK'),
    mtuBytes: mtuNumber(number(/(?:^| )(?:MTU:|mtu )(\d+)(?= |$)/m)),
    macAddress: macText(firstGroup(text, /(?:^| )(?:HWaddr|ether) ([0-9a-f:]{17})(?=\s|$)/im)),
    addresses: lines.flatMap((line) => addressOf(line) ?? []),
    rxFrames: count('RX', 'packets'),
    txFrames: count('TX', 'packets'),
    rxErrors: count('RX', 'errors'),
    txErrors: count('TX', 'errors'),
    rxDropped: count('RX', 'dropped'),
    txDropped: count('TX', 'dropped'),
    rxOctets: number(/(?:^| )RX (?:packets \d+ +)?bytes[: ](\d+)(?= |$)/m),
    txOctets: number(/(?:^| )TX (?:packets \d+ +)?bytes[: ](\d+)(?= |$)/m),
  });
}

function addressOf(line: string): string | undefined {
  const [, v4 = '', mask = ''] =
    /^inet (?:addr:)?([\d.]{7,15})(?=\s).*?\b(?:Mask:|netmask )([\d.]{7,15})(?=\s|$)/.exec(line) ??
    [];
  const length = prefixLengthOf(mask);
  if (length !== undefined && isLiteralAddress(v4)) return `${v4}/${length}`;
  const [, v6 = '', plain, prefixlen] =
    /^inet6 (?:addr: )?([0-9a-f:.]{2,45})(?:\/(\d{1,3})| +prefixlen (\d{1,3}))(?=\s|$)/i.exec(
      line,
    ) ?? [];
  if (!isLiteralAddress(v6) || /^fe[89ab]/i.test(v6)) return undefined;
  return `${v6}/${plain ?? prefixlen}`;
}
