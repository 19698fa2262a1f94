import { type Command, InvalidArgumentError, Option } from 'commander';
import { severities } from '../judge/types.ts';
import type { Io } from './io.ts';
import type { ConfirmOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that says what came true of a rehearsed change. */
export function addConfirm(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('confirm')
    .description('read again after a rehearsed change, or in its middle, and say what came true')
    .argument('<CHANGE>', 'the change file, or second intent, that was rehearsed')
    .option('--intent <FILE>', 'intent file, as it was given to rehearse')
    .option('--kept <FILE>', 'what rehearse --keep wrote (default: in the XDG state folder)')
    .addOption(
      new Option(
        '--step <N>',
        'confirm as far as step N of the rehearsed order (default: all)',
      ).argParser(stepOf),
    )
    .option('--survey <FILE>', 'confirm against what was saved after the change')
    .addOption(
      new Option('--format <FORM>', 'form of the result; markdown is for the ticket')
        .choices(['text', 'json', 'markdown'])
        .default('text'),
    )
    .addOption(
      new Option('--least <SEVERITY>', 'the least severity that the exit status counts')
        .choices(severities)
        .default('warning'),
    )
    .option('--show-commands', 'print every address, command and OID; send nothing')
    .option('--quiet', 'print no progress')
    .addHelpText('after', examples)
    .action(async (change: string, options: ConfirmOptions) => {
      const { confirmChange } = await import('./commands/confirm.ts');
      setStatus(await confirmChange(change, options, io));
    });
}

function stepOf(text: string): number {
  if (!/^[1-9][0-9]{0,5}$/.test(text))
    throw new InvalidArgumentError('give the number of a step of the rehearsed order, from 1');
  return Number(text);
}

const examples = `
Every step, every path and every rule is compared with what the rehearsal foretold for this point,
and all else with what was read before: what moved beside it, and which errors were counted since.
It confirms the change as it was rehearsed, also where its file has been edited since.

Examples:
  hopgauge rehearse storage-9000.yaml                before; keeps what this command needs
  hopgauge confirm storage-9000.yaml --step 3        in its middle: steps 1 to 3 are done
  hopgauge confirm storage-9000.yaml                 after it
  hopgauge confirm storage-9000.yaml --format markdown > result.md
  hopgauge confirm storage-9000.yaml --survey wednesday.json

Exit status: 0 all as foretold; 1 a step is not done, something is otherwise than foretold, a path
carries less, a rule is newly broken or not mended, or errors were counted; 2 none of that, but
something cannot be told. What stood broken before does not count.`;
