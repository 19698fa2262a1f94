import { Argument, Command, Option } from 'commander';
import { severities } from '../judge/types.ts';
import { addCeiling } from './add-ceiling.ts';
import { addCollector } from './add-collector.ts';
import { addCompletion } from './add-completion.ts';
import { addConfirm } from './add-confirm.ts';
import { addDraft } from './add-draft.ts';
import { addExplain } from './add-explain.ts';
import { addFit } from './add-fit.ts';
import { addHistory } from './add-history.ts';
import { addJob } from './add-job.ts';
import { addLive } from './add-live.ts';
import { addPage } from './add-page.ts';
import { addRehearse } from './add-rehearse.ts';
import { addSchedule } from './add-schedule.ts';
import { addTransfer } from './add-transfer.ts';
import type { Io } from './io.ts';
import type { AccessOptions, AuditOptions, RulesOptions, SurveyOptions } from './options.ts';
import { outputChoice } from './outputs.ts';

/** Tells the status that a command ended with. */
export type SetStatus = (status: number) => void;

/** The command line. Each command loads its own code, so that none pays for another. */
export function makeProgram(io: Io, setStatus: SetStatus): Command {
  const program = new Command('hopgauge')
    .description('Says which hop of an Ethernet path is not what it is meant to be.')
    .usage('COMMAND [options]')
    .option('--version', 'print the version')
    .helpOption('--help', 'print this help')
    .helpCommand(false)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.stdout.write(text),
      writeErr: () => {},
      outputError: () => {},
      getOutHelpWidth: () => Math.min(100, io.stdout.columns ?? 80),
      getOutHasColors: () => false,
    })
    .addHelpText('after', programHelp);
  addAudit(program, io, setStatus);
  addSurvey(program, io, setStatus);
  addAccess(program, io, setStatus);
  addDraft(program, io, setStatus);
  addRules(program, io, setStatus);
  addFit(program, io, setStatus);
  addTransfer(program, io, setStatus);
  addLive(program, io, setStatus);
  addExplain(program, io, setStatus);
  addCeiling(program, io, setStatus);
  addHistory(program, io, setStatus);
  addPage(program, io, setStatus);
  addCollector(program, io, setStatus);
  addSchedule(program, io, setStatus);
  addRehearse(program, io, setStatus);
  addConfirm(program, io, setStatus);
  addCompletion(program, io, setStatus);
  return program;
}

const programHelp = `
Begin here:
  hopgauge survey                     read this machine and say what it tells; needs nothing
  hopgauge draft vault.office.example write a first intent file from what is there
  hopgauge access office.yaml         try the doors of every node of an intent file
  hopgauge audit office.yaml          read them all, judge them, say which hop differs
  hopgauge explain plot-2:eno1        why that link is slow, and what to measure next

Exit status: 0 judged and all met; 1 a rule is broken; 2 nothing broken, but something could not
be judged; with --changes only what is new counts. 64 usage; 73 a file cannot be written, or
a message not delivered; 75 another audit is running; 78 intent or policy, or too few files may be
open; 70 a fault of hopgauge.
It changes no setting anywhere.`;

function addAudit(program: Command, io: Io, setStatus: SetStatus): void {
  const choice = outputChoice();
  const command = program
    .command('audit')
    .description('read the nodes of an intent, judge them, report')
    .addArgument(
      new Argument(
        '[INTENT...]',
        'intent file of each site (default: hopgauge.yaml in this folder)',
      ),
    )
    .addOption(intentOption())
    .option('--survey <FILE>', 'judge what was saved instead of reading')
    .addOption(choice.format)
    .addOption(choice.out)
    .option('--redact', 'hide names, addresses, keys, labels and files behind stable pseudonyms')
    .addOption(
      new Option('--least <SEVERITY>', 'the least severity that the exit status counts')
        .choices(severities)
        .default('warning'),
    )
    .option('--strict', 'a hop known only from the intent is undetermined, not met')
    .option('--changes', 'keep this audit, and print only what is new, worse, cleared or moved')
    .option('--all', 'with --changes: print the whole report all the same')
    .option(
      '--collect',
      'let the collectors of the site read the nodes, and wait for them; for a server that is away, 30s',
    )
    .option(
      '--cron <TIMES>',
      "with --collect: stay, and audit at times that the queue keeps, '0 2 * * *'",
    )
    .option(
      '--store <FILE>',
      'with --changes: file of the history (default: XDG state folder), or postgres://… ; with --collect: the server',
    );
  addCommon(addJob(command)).addHelpText(
    'after',
    `
Examples:
  hopgauge audit                              the intent hopgauge.yaml of this folder
  hopgauge audit saltmarsh.yaml --strict      without taking the owner's word for any hop
  hopgauge audit --changes                    for cron: prints nothing while nothing moves
  hopgauge audit depot.yaml --collect --store postgres://auditor@db.office.example/hopgauge
  hopgauge audit --changes --deadline 30m --syslog udp://log.office.example
  hopgauge audit --changes --mail-to desk@office.example --mail-from vault@office.example --smtp smtp://localhost:25
  hopgauge audit sites/*.yaml --changes --format html --out '/srv/www/{site}.html' --format text
  hopgauge audit --quiet                      prints nothing while all is met
  hopgauge survey --out tuesday.json && hopgauge audit --survey tuesday.json
  hopgauge audit --format json --redact --out report.json
  hopgauge audit --format junit --out a.xml --format csv --out ports.csv --format text`,
  );
  command.action(async (files: string[], options: Omit<AuditOptions, 'outputs'>) => {
    const given: AuditOptions = { ...options, outputs: choice.outputs() };
    const { cron } = given;
    if (cron !== undefined) {
      const { auditOnSchedule } = await import('./commands/audit-on-schedule.ts');
      setStatus(await auditOnSchedule(files, { ...given, cron }, io));
      return;
    }
    const { audit } = await import('./commands/audit.ts');
    setStatus(await audit(files, given, io));
  });
}

function addSurvey(program: Command, io: Io, setStatus: SetStatus): void {
  const command = program
    .command('survey')
    .description('only read; without an intent, read this machine')
    .addArgument(intentArgument())
    .addOption(intentOption())
    .option('--survey <FILE>', 'show what was saved instead of reading')
    .addOption(formatOption())
    .option('--out <FILE>', 'save the survey to FILE for audit --survey')
    .option('--redact', 'hide names and addresses in what is shown');
  addCommon(command).addHelpText(
    'after',
    `
Examples:
  hopgauge survey                             this machine, where there is no hopgauge.yaml
  hopgauge survey saltmarsh.yaml              every node of the office
  hopgauge survey --out tuesday.json          save it, to be judged again later
  hopgauge survey --show-commands             what would be asked of whom; sends nothing`,
  );
  command.action(async (file: string | undefined, options: SurveyOptions) => {
    const { survey } = await import('./commands/survey.ts');
    setStatus(await survey(file, options, io));
  });
}

function addAccess(program: Command, io: Io, setStatus: SetStatus): void {
  const command = program
    .command('access')
    .description('only try the doors: name, reach, keys, login, each apart, once')
    .addArgument(intentArgument())
    .addOption(intentOption())
    .option('--enrol', 'show host keys that nobody knows; record them after a typed yes')
    .option('--print-script', 'print the read-only script for a forced command');
  addCommon(command).addHelpText(
    'after',
    `
Examples:
  hopgauge access saltmarsh.yaml              which doors are open, and what to do at the others
  hopgauge access --enrol                     record the keys of plot-1, vault and gate
  hopgauge access --print-script > hopgauge-read`,
  );
  command.action(async (file: string | undefined, options: AccessOptions) => {
    const { access } = await import('./commands/access.ts');
    setStatus(await access(file, options, io));
  });
}

function addRules(program: Command, io: Io, setStatus: SetStatus): void {
  const command = program
    .command('rules')
    .description('print the rules in force, what they read, where they come from')
    .addArgument(intentArgument())
    .addOption(intentOption())
    .option('--facts', 'print every fact that a rule can read')
    .addHelpText(
      'after',
      `
Examples:
  hopgauge rules saltmarsh.yaml               the rules that the office has chosen
  hopgauge rules --facts                      the dictionary, for writing rules of your own`,
    );
  command.action(async (file: string | undefined, options: RulesOptions) => {
    const { rules } = await import('./commands/rules.ts');
    setStatus(await rules(file, options, io));
  });
}

function intentArgument(): Argument {
  return new Argument('[INTENT]', 'intent file (default: hopgauge.yaml in this folder)');
}

function intentOption(): Option {
  return new Option('--intent <FILE>', 'intent file, as INTENT');
}

function formatOption(): Option {
  return new Option('--format <FORM>', 'form of the result')
    .choices(['text', 'json'])
    .default('text');
}

function addCommon(command: Command): Command {
  return command
    .option('--show-commands', 'print every address, command and OID; send nothing')
    .option('--quiet', 'print no progress, and nothing where nothing is wrong')
    .option('--verbose', 'print everything');
}
