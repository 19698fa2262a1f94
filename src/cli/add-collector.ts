import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Io } from './io.ts';
import type { CollectorOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that reads what falls to one place of a site, for audits that run elsewhere. */
export function addCollector(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('collector')
    .description('read nodes of a site for audits that run elsewhere; runs until it is stopped')
    .requiredOption('--store <ADDRESS>', 'server of the history, postgres://USER@HOST/DATABASE')
    .option('--site <NAME>', 'site to read; may be repeated (default: every site)', add, [])
    .option('--reach <NAME>', 'only nodes with this reach; may be repeated (default: all)', add, [])
    .option('--intent <FILE>', 'only nodes that this intent declares, and only as it says')
    .addOption(
      new Option('--at-once <COUNT>', 'nodes that it reads at one time')
        .argParser(countOf)
        .default(48),
    )
    .option('--prepare', 'only make the tables of history and queue, as their owner')
    .option('--quiet', 'say nothing of what it takes')
    .addHelpText('after', examples)
    .action(async (options: CollectorOptions) => {
      const { collector } = await import('./commands/collector.ts');
      setStatus(await collector(options, io));
    });
}

function add(text: string, before: readonly string[]): readonly string[] {
  return [...before, text];
}

function countOf(text: string): number {
  const count = /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (count < 1 || count > 256) throw new InvalidArgumentError('Write 1 to 256.');
  return count;
}

const examples = `
hopgauge audit --collect puts the nodes of a site into a queue on the server; collectors take what
falls to them and give the readings back. Where a collector ends in the middle, another reads the
node. Secrets never go through the queue: each collector has its own, under the names of the intent.
A server that is away is waited for, at the start, too.
The password of the server comes from PGPASSWORD, ~/.pgpass or the secret HOPGAUGE_STORE.

Examples:
  hopgauge collector --store postgres://collector@db.office.example/hopgauge --site 'the depot'
  hopgauge collector --store postgres://collector@db.office.example/hopgauge --site 'the depot' --reach yard
  hopgauge collector --store postgres://collector@db.office.example/hopgauge    one for all sites
  hopgauge audit depot.yaml --store postgres://auditor@db.office.example/hopgauge --collect --changes

Exit status: 0 when it is stopped; 64 usage; 73 the server cannot be used; 78 intent.`;
