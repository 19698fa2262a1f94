import { Argument, type Command, Option } from 'commander';
import type { Io } from './io.ts';
import type { LiveOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command for one who moves a cord. */
export function addLive(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('live')
    .description('watch ports while somebody moves a cord, and tell each change')
    .addArgument(
      new Argument('<TARGET...>', "node:port, a node or a link of the intent, or 'here:PORT'"),
    )
    .option('--intent <FILE>', 'intent file (default: hopgauge.yaml in this folder)')
    .option('--for <AGE>', 'how long, as 90s, 30m or 8h; a day at most', '1h')
    .option('--one-end', 'only the port that is named, not the other end of its link')
    .option('--bell', 'ring the bell of the terminal with each change')
    .addOption(
      new Option('--format <FORM>', 'form of the result')
        .choices(['text', 'jsonl'])
        .default('text'),
    )
    .option('--show-commands', 'print every address, command and OID; send nothing')
    .option('--quiet', 'do not say what is watched')
    .addHelpText('after', examples)
    .action(async (targets: readonly string[], options: LiveOptions) => {
      const { live } = await import('./commands/live.ts');
      setStatus(await live(targets, options, io));
    });
}

const examples = `
It looks once a second over one connection to each node, at these ports only, and prints a line for
each change of link, speed, duplex, MTU, errors and of what the far side offers; on a terminal the
state of each port stands below the lines. A port of a link brings the port at its other end, where
somebody can log in there. A node that is lost is tried again; one that refuses the login is not.
Ctrl-C ends it, as its time does, and prints what changed. It changes nothing on any node.

Examples:
  hopgauge live plot-1:desk                   both ends of this link, for an hour
  hopgauge live quay-sw --for 8h              every port of this switch that the intent declares
  hopgauge live here:eth0                     a port of this machine, without any intent
  hopgauge live vault:eth4 --one-end --bell   hear the link come back from under the desk
  hopgauge live vault --format jsonl > moved.jsonl

Looking in seconds is no measure of a slow fault: errors of one night are told by audit --changes.
It judges no rule: its exit status is 0, or 2 where no port could be looked at.`;
