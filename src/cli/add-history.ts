import { Argument, type Command, Option } from 'commander';
import type { Io } from './io.ts';
import type { HistoryOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that tells what moved, and when. */
export function addHistory(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('history')
    .description('say what moved, and when; look after the history')
    .addArgument(
      new Argument(
        '[TARGET]',
        'a node, node:port, link, path, segment, or the id of a finding; none: all',
      ),
    )
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder, if any)')
    .option(
      '--store <FILE>',
      'file of the history (default: in the XDG state folder), or postgres://…',
    )
    .option('--site <NAME>', 'site of the history (default: that of the intent)')
    .option('--since <TIME>', 'only what is later: a date, or an age such as 30d')
    .addOption(
      new Option('--format <FORM>', 'form of the result')
        .choices(['text', 'json', 'jsonl'])
        .default('text'),
    )
    .option('--redact', 'hide names, addresses, keys, labels and files behind stable pseudonyms')
    .option('--complete-within <AGE>', 'only say whether an audit was complete within 26h, say')
    .option('--check', 'only say whether the store is sound')
    .option('--prune <AGE>', 'take out nights older than 730d, say; what is open stays')
    .addHelpText('after', examples)
    .action(async (target: string | undefined, options: HistoryOptions) => {
      const { history } = await import('./commands/history.ts');
      setStatus(await history(target, options, io));
    });
}

const examples = `
A history is kept by hopgauge audit --changes, one entry for each audit.

Examples:
  hopgauge history                            the audits, and all that moved
  hopgauge history quay-sw:xg3 --since 30d    one port: its facts, errors and findings
  hopgauge history plotting                   since when does the path not carry its packets?
  hopgauge history 5c342a13df                 one finding, by the id that reports give it
  hopgauge history --complete-within 26h || echo 'the nightly audit does not run'
  hopgauge history --format jsonl > saltmarsh.jsonl

Exit status: 0; 1 with --complete-within when no audit was, with --check when the store is
damaged; 64 usage; 73 the store cannot be used; 75 another run is writing it.`;
