import { Argument, type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from './io.ts';
import type { FitOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that tries packet sizes. */
export function addFit(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('fit')
    .description('send a few packets both ways and say which sizes really pass')
    .addArgument(new Argument('[FROM]', "a node of the intent, or 'here'"))
    .addArgument(new Argument('[TO]', 'a node of the intent, or an IP address'))
    .option('--path <NAME>', 'instead of FROM and TO: every pair of ends of that path')
    .option('--all', 'instead: every pair of ends of every path, one after the other')
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder)')
    .option('--survey <FILE>', 'a saved survey that may explain what does not pass')
    .option(
      '--into <FILE>',
      'keep what was shown in this saved survey, for audit --survey; also as --survey',
    )
    .option(
      '--store <FILE>',
      'keep it in this history, a file or postgres://…, for audit --changes',
    )
    .addOption(
      new Option('--size <BYTES>', 'IP packet to try, and no others; may be repeated')
        .argParser(addSize)
        .default([], '1500, 2000 and the declared packet'),
    )
    .addOption(
      new Option('--format <FORM>', 'form of the result').choices(['text', 'json']).default('text'),
    )
    .option('--show-commands', 'print what would be sent from where; send nothing')
    .option('--quiet', 'do not say what is about to be sent, nor where it was kept')
    .option('--verbose', 'print everything')
    .addHelpText('after', examples)
    .action(async (from: string | undefined, to: string | undefined, options: FitOptions) => {
      const { fitCommand } = await import('./commands/fit.ts');
      const ends = { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
      setStatus(await fitCommand(ends, options, io));
    });
}

/** The sizes of IP packets that can be sent: IPv4 passes 68 (RFC 791) to 65535. */
const sizeBytesMin = 68;
const sizeBytesMax = 65_535;

function addSize(text: string, before: readonly number[]): readonly number[] {
  const size = /^[1-9][0-9]{1,4}$/.test(text) ? Number(text) : 0;
  if (size < sizeBytesMin || size > sizeBytesMax) {
    throw new InvalidArgumentError(`give bytes from ${sizeBytesMin} to ${sizeBytesMax}`);
  }
  return [...before, size];
}

const examples = `
It asks hosts over SSH for pings that may not be cut in pieces, at most 12 packets each way: the
smallest first, three tries before a size counts as lost, and nothing larger than that. Where the
declared packet is lost it tries those that are 4, 14, 18 and 22 bytes smaller: which of them passes
tells what some MTU on the way counts. With --survey it says which hop explains it. Some adapters
have hung on a single large packet: on a storage network in use, pick a quiet hour.

Exit status: 0 the packet passes both ways; 1 it does not; 2 that cannot be told; 130
interrupted.

Examples:
  hopgauge fit plot-1 vault                   1500, 2000 and the declared 9000 bytes, both ways
  hopgauge fit plot-1 vault --survey tuesday.json
  hopgauge fit --path plotting                every pair of ends of one path
  hopgauge fit --all --format json            every path, one pair after the other
  hopgauge fit plot-1 vault --into tuesday.json; hopgauge audit --survey tuesday.json
  hopgauge fit here 198.18.20.7 --size 9000   from this machine, without any intent`;
