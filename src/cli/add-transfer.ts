import { Argument, type Command, InvalidArgumentError, Option } from 'commander';
import {
  transferBytesMax,
  transferSecondsMax,
  transferSecondsMin,
  transferStreamsMax,
} from '../probe/transfer-types.ts';
import type { Io } from './io.ts';
import type { TransferOptions } from './options.ts';
import type { SetStatus } from './program.ts';

const secondsDefault = 10;

/** The command that loads a path for a few seconds. */
export function addTransfer(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('transfer')
    .description('load a path with one bounded TCP transfer and say what it carries (RFC 6349)')
    .addArgument(new Argument('FROM', 'a node of the intent: it sends'))
    .addArgument(new Argument('TO', 'a node of the intent: it receives'))
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder)')
    .option('--survey <FILE>', 'a saved survey: the addresses that the path uses, and its speeds')
    .addOption(
      new Option('--for <SECONDS>', `${transferSecondsMin} to ${transferSecondsMax} s`)
        .argParser(secondsOf)
        .default(secondsDefault),
    )
    .addOption(
      new Option(
        '--at-most <BYTES>',
        'cap, as 500MB, 2GB or 1GiB (default: what the path allows)',
      ).argParser(bytesOf),
    )
    .addOption(
      new Option('--streams <N>', `connections at once, 1 to ${transferStreamsMax}`)
        .argParser(streamsOf)
        .default(1),
    )
    .option('--both-ways', 'then the other direction, one after the other')
    .option(
      '--into <FILE>',
      'keep what was measured in this saved survey, for audit --survey; also as --survey',
    )
    .option(
      '--store <FILE>',
      'keep it in this history, a file or postgres://…, for audit --changes',
    )
    .addOption(
      new Option('--format <FORM>', 'form of the result').choices(['text', 'json']).default('text'),
    )
    .option('--show-commands', 'print every address and command; send nothing')
    .option('--quiet', 'do not say what is about to be sent, nor where it was kept')
    .addHelpText('after', examples)
    .action(async (from: string, to: string, options: TransferOptions) => {
      const { transfer } = await import('./commands/transfer.ts');
      setStatus(await transfer({ from, to }, options, io));
    });
}

const examples = `
It loads the path, and all that shares it, as hard as TCP can: pick an hour when nobody works on the
storage. It runs only on a path of the intent that says 'load: allowed'. Nothing is installed and no
file is written: perl or python3 of the hosts, else nc, gets its program on standard input, and both
ends end by themselves.

Examples:
  hopgauge transfer plot-1 vault               10 s from memory to memory
  hopgauge transfer plot-1 vault --both-ways --for 5s
  hopgauge transfer plot-1 vault --streams 4   does one connection wait for its window?
  hopgauge transfer plot-1 vault --at-most 2GB --survey tuesday.json
  hopgauge transfer plot-1 vault --into tuesday.json; hopgauge audit --survey tuesday.json
  hopgauge transfer plot-1 vault --show-commands

Exit status: 0 measured, and the declared goodput, if any, is reached; 1 it is not; 2 it could not be
measured to its end, or took less than a second and a goodput is declared; 130 interrupted.`;

function secondsOf(text: string): number {
  const seconds = /^[1-9][0-9]?s?$/.test(text) ? Number.parseInt(text, 10) : 0;
  if (seconds >= transferSecondsMin && seconds <= transferSecondsMax) return seconds;
  throw new InvalidArgumentError(
    `give ${transferSecondsMin} to ${transferSecondsMax} seconds, such as 10s`,
  );
}

const units: Readonly<Record<string, number>> = { MB: 1e6, GB: 1e9, MiB: 2 ** 20, GiB: 2 ** 30 };

function bytesOf(text: string): number {
  const [, digits, unit = ''] = /^(\d{1,6}(?:\.\d{1,3})?)(MB|GB|MiB|GiB)$/.exec(text) ?? [];
  const bytes = digits === undefined ? 0 : Math.round(Number(digits) * (units[unit] ?? 0));
  if (bytes > 0 && bytes <= transferBytesMax) return bytes;
  throw new InvalidArgumentError(
    `give bytes such as 500MB, 2GB or 1GiB, ${transferBytesMax / 1e9}GB at most`,
  );
}

function streamsOf(text: string): number {
  const streams = /^[1-9]$/.test(text) ? Number(text) : 0;
  if (streams >= 1 && streams <= transferStreamsMax) return streams;
  throw new InvalidArgumentError(`give 1 to ${transferStreamsMax} connections`);
}
