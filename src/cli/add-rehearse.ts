import { type Command, Option } from 'commander';
import { severities } from '../judge/types.ts';
import type { Io } from './io.ts';
import type { RehearseOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that judges a change before it is made. */
export function addRehearse(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('rehearse')
    .description('judge a change before it is made, step by step; makes none')
    .argument('[CHANGE]', 'a change file, or a second intent; without it, the intent on paper')
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder)')
    .option('--survey <FILE>', 'rehearse on what was saved instead of reading')
    .option('--last-read', 'rehearse on what the history read last of each node')
    .option('--store <FILE>', 'the history that --last-read means (default: in the state folder)')
    .option('--out <FILE>', 'write the rehearsal to FILE as JSON')
    .option('--keep <FILE>', 'keep what confirm needs in FILE (default: XDG state folder)')
    .addOption(
      new Option(
        '--format <FORM>',
        'form of the result; markdown is a procedure to follow and sign',
      )
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
    .action(async (change: string | undefined, options: RehearseOptions) => {
      const { rehearseChange } = await import('./commands/rehearse.ts');
      setStatus(await rehearseChange(change, options, io));
    });
}

const examples = `
A change file says what is to be set; nothing of it is sent anywhere:
  change: 1
  about: storage to 9000
  segments: { storage: { mtu: 9000 } }
Where it names segments only, every port that must follow is worked out; where it lists ports or
nodes with an mtu, what their segments need beside is named as forgotten.
What was read and foretold is kept, so that hopgauge confirm can say what came true.

Examples:
  hopgauge rehearse                                 the intent by itself, nothing read
  hopgauge rehearse storage-9000.yaml               on what is read now
  hopgauge rehearse storage-9000.yaml --survey tuesday.json --out rehearsal.json
  hopgauge rehearse storage-9000.yaml --last-read   on what the nightly audits read last
  hopgauge rehearse storage-9000.yaml --format markdown > procedure.md
  hopgauge rehearse next-year.yaml                  a second intent: the difference is the change
  hopgauge confirm storage-9000.yaml                once the change is made

Exit status: 0 nothing speaks against it; 1 something is impossible, forgotten or newly broken, or a
step cuts a path; 2 something of it cannot be told.`;
