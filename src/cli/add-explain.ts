import { type Command, Option } from 'commander';
import type { Io } from './io.ts';
import type { ExplainOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that says why. */
export function addExplain(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('explain')
    .description('say why a link or a path is not what it should be, and what to measure next')
    .argument('<TARGET>', 'a node, node:port, link, path or segment of the intent')
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder)')
    .option('--survey <FILE>', 'explain what was saved instead of reading')
    .addOption(
      new Option('--format <FORM>', 'form of the result').choices(['text', 'json']).default('text'),
    )
    .option('--redact', 'hide names, addresses, keys, labels and files behind stable pseudonyms')
    .option('--show-commands', 'print every address, command and OID; send nothing')
    .option('--quiet', 'print no progress')
    .addHelpText('after', examples)
    .action(async (target: string, options: ExplainOptions) => {
      const { explain } = await import('./commands/explain.ts');
      setStatus(await explain(target, options, io));
    });
}

const examples = `
Either end names its link. Of each link it prints the elements from end to end, what limits it
marked in place; then the causes, worded 'is', 'likely' or 'check', each with what speaks for and
against it; what cannot be told, and why; and the one measurement to make next.

Examples:
  hopgauge explain plot-2:eno1                why this link is slow
  hopgauge explain plotting                   a path: its routes, then every link on it
  hopgauge explain plot-2 --survey tuesday.json
  hopgauge explain storage --format json

It judges no rule: its exit status is 0 whatever it finds.`;
