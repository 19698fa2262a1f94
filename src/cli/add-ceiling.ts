import { type Command, InvalidArgumentError, Option } from 'commander';
import { parseRate } from '../intent/speed.ts';
import type { Io } from './io.ts';
import type { CeilingOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that only reckons. */
export function addCeiling(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('ceiling')
    .description('the TCP goodput that a line allows, and what a measured figure says of a path')
    .addOption(new Option('--rate <SPEED>', 'rate of the line: 10G, 2.5G').argParser(rateOf))
    .addOption(new Option('--mtu <BYTES>', 'IP packet (default: 1500)').argParser(mtuOf))
    .addOption(new Option('--vlan [TAGS]', 'frames carry a VLAN tag, or so many').argParser(tagsOf))
    .option('--ipv6', 'reckon with IPv6 headers')
    .option('--no-timestamps', 'reckon without the TCP timestamps option')
    .addOption(new Option('--rtt <TIME>', 'round trip: 0.2ms, 200us').argParser(rttMsOf))
    .addOption(new Option('--seconds <N>', 'how long a transfer takes').argParser(secondsOf))
    .option('--measured <FIGURE>', 'explain this: 9.41G, 941M, 117MB/s, 112MiB/s, 23.1GiB')
    .option('--intent <FILE>', 'intent file, to say which hop the figure points at')
    .option('--survey <FILE>', 'a saved survey of that intent')
    .option('--path <NAME>', 'the path that was measured, where the intent has several')
    .addOption(
      new Option('--format <FORM>', 'form of the result').choices(['text', 'json']).default('text'),
    )
    .addHelpText('after', examples)
    .action(async (options: CeilingOptions) => {
      const { ceiling } = await import('./commands/ceiling.ts');
      setStatus(await ceiling(options, io));
    });
}

const examples = `
Figures: G, M and k are bits a second; MB/s and GB/s bytes by tens, MiB/s and GiB/s by powers of
two; MB or GiB alone are the bytes of a transfer that took --seconds.

Examples:
  hopgauge ceiling --rate 10G --mtu 9000 --rtt 0.2ms
  hopgauge ceiling --rate 2.5G --vlan --ipv6
  hopgauge ceiling --measured 112MiB/s                  what kind of line is that?
  hopgauge ceiling --rate 10G --mtu 9000 --measured 9.41G
  hopgauge ceiling --rate 10G --seconds 20 --measured 23.1GiB
  hopgauge ceiling --intent saltmarsh.yaml --survey tuesday.json --path plotting --measured 941M

It sends nothing and judges no rule: its exit status is 0 whatever the figure.`;

function rateOf(text: string): number {
  const mbps = parseRate(text);
  if (mbps === undefined) throw new InvalidArgumentError('write a rate such as 10G, 2.5G or 100M');
  return mbps;
}

/** IPv4 packets are 68 (RFC 791) to 65535 bytes. */
const mtuBytesMin = 68;
const mtuBytesMax = 65_535;

function mtuOf(text: string): number {
  const bytes = /^[1-9][0-9]{1,4}$/.test(text) ? Number(text) : 0;
  if (bytes >= mtuBytesMin && bytes <= mtuBytesMax) return bytes;
  throw new InvalidArgumentError(`give bytes from ${mtuBytesMin} to ${mtuBytesMax}`);
}

function tagsOf(text: string): number {
  if (!/^[0-2]$/.test(text)) throw new InvalidArgumentError('give 0, 1 or 2 tags');
  return Number(text);
}

/** Of each unit in ms. */
const timeUnits: Readonly<Record<string, number>> = { us: 1e-3, ms: 1, s: 1e3 };

function rttMsOf(text: string): number {
  const [, digits, unit = ''] = /^(\d{1,6}(?:\.\d{1,6})?)(us|ms|s)$/.exec(text) ?? [];
  const ms = digits === undefined ? 0 : Number(digits) * (timeUnits[unit] ?? 0);
  if (ms > 0) return ms;
  throw new InvalidArgumentError('write a time such as 0.2ms or 200us');
}

function secondsOf(text: string): number {
  const seconds = /^\d{1,6}(?:\.\d{1,3})?$/.test(text) ? Number(text) : 0;
  if (seconds > 0) return seconds;
  throw new InvalidArgumentError('give seconds above 0');
}
