import type { Command } from 'commander';
import type { Io } from './io.ts';
import type { PageOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that writes the latest audit as pages. */
export function addPage(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('page')
    .description('write the latest audit of the history as pages into a folder')
    .requiredOption('--out <DIR>', 'folder of the pages; made where it is not there')
    .option(
      '--store <FILE>',
      'file of the history (default: in the XDG state folder), or postgres://…',
    )
    .option('--intent <FILE>', 'intent file of a site; may be repeated', add, [])
    .option('--site <NAME>', 'site of the history; may be repeated', add, [])
    .option('--redact', 'hide names, addresses, keys, labels and files behind stable pseudonyms')
    .option('--quiet', 'say nothing of what was written')
    .addHelpText('after', examples)
    .action(async (options: PageOptions) => {
      const { page } = await import('./commands/page.ts');
      setStatus(await page(options, io));
    });
}

function add(text: string, before: readonly string[]): readonly string[] {
  return [...before, text];
}

const examples = `
The verdicts are those of the latest hopgauge audit --changes; nothing is read or judged again. A
node that it did not read is shown as not read, with when it was read last. A site of up to 200
nodes has one page, a larger one an index and a page for each node, several sites a folder each.
Only pages that differ are written, and only files of hopgauge-pages.json are ever removed.

Examples:
  hopgauge page --out /srv/www/net                     the site of hopgauge.yaml, else all sites
  hopgauge audit --changes; hopgauge page --out /srv/www/net --quiet
  hopgauge page --out pages --site 'Saltmarsh survey office' --site 'the depot'
  hopgauge page --out to-show --redact                 with pseudonyms for all names

Exit status: 0; 64 usage; 73 the store cannot be used, or a page not written; 78 intent, or nothing
to write a page of.`;
