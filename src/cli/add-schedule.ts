import { Argument, type Command, Option } from 'commander';
import type { Io } from './io.ts';
import type { ScheduleOptions } from './options.ts';
import type { SetStatus } from './program.ts';

/** The command that prints a timer to copy. */
export function addSchedule(program: Command, io: Io, setStatus: SetStatus): void {
  program
    .command('schedule')
    .description('print a timer for a nightly audit; installs nothing')
    .addArgument(new Argument('[INTENT]', 'intent file (default: hopgauge.yaml in this folder)'))
    .option('--intent <FILE>', 'intent file, as INTENT')
    .option('--at <TIME>', 'local time of day', '02:00')
    .addOption(
      new Option('--as <FORM>', 'what runs it').choices(['systemd', 'cron']).default('systemd'),
    )
    .option('--user <NAME>', 'account that it runs as (default: this one)')
    .option('--deadline <AGE>', 'the audit ends by then, and systemd ends it after', '30m')
    .addHelpText('after', examples)
    .action(async (file: string | undefined, options: ScheduleOptions) => {
      const { schedule } = await import('./commands/schedule.ts');
      setStatus(await schedule(file, options, io));
    });
}

const examples = `
Exit status: 0; 64 usage; 78 intent.

Examples:
  hopgauge schedule /etc/hopgauge/saltmarsh.yaml --user auditor
  hopgauge schedule --at 03:30 --as cron            lines for crontab -e
  hopgauge schedule --as cron --user auditor        a file for /etc/cron.d`;
