import { CommanderError } from 'commander';
import { cleanText } from '../facts/clean-text.ts';
import { outOfFilesCode, outOfFilesWords } from '../facts/out-of-files.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { Io } from './io.ts';
import { makeProgram } from './program.ts';
import { RunFault } from './run-fault.ts';
import { toolVersion } from './tool-version.ts';

/** Longest line of a message, in UTF-16 units. */
const lineLengthMax = 2000;

/**
 * Runs one command line, without the name of the program, and gives the exit status. Never throws
 * and never ends the process.
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  if (argv[0] === '--version') {
    io.stdout.write(`${toolVersion()}\n`);
    return exitStatuses.met;
  }
  let status: number = exitStatuses.met;
  const program = makeProgram(io, (ended) => {
    status = ended;
  });
  if (argv.length === 0) {
    // The library's bare text of the help lacks what is added after it: where to begin.
    program.configureOutput({ writeErr: (text) => io.stderr.write(text) });
    program.outputHelp({ error: true });
    return exitStatuses.usage;
  }
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return status;
  } catch (error) {
    return failed(error, io, argv);
  }
}

function failed(error: unknown, io: Io, argv: readonly string[]): number {
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return exitStatuses.met;
    io.stderr.write(`hopgauge: ${usageWords(error.message, argv)}\n`);
    return exitStatuses.usage;
  }
  if (error instanceof RunFault) {
    for (const line of error.lines) io.stderr.write(`${indented(line)}\n`);
    return error.status;
  }
  if (io.signal.aborted) {
    io.stderr.write('interrupted\n');
    return exitStatuses.interrupted;
  }
  const spent = outOfFilesCode(error);
  if (spent !== undefined) {
    io.stderr.write(`hopgauge: ${outOfFilesWords(spent)}\n`);
    return exitStatuses.input;
  }
  const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  io.stderr.write(
    `hopgauge: this is a fault of hopgauge: ${cleanText(words, lineLengthMax)}; please report it\n`,
  );
  if (argv.includes('--verbose') && error instanceof Error) {
    for (const line of (error.stack ?? '').split('\n').slice(1)) {
      io.stderr.write(`  ${cleanText(line, lineLengthMax)}\n`);
    }
  }
  return exitStatuses.bug;
}

/** The library's words in our form: lower case, one line, with what to do. */
function usageWords(message: string, argv: readonly string[]): string {
  const words = cleanText(message, lineLengthMax)
    .replace(/^error: /, '')
    .replace(/ ?\(Did you mean (?:one of )?([^)]*)\?\)$/, '; did you mean $1?')
    .replace(/\.$/, '');
  const [command = ''] = argv;
  const page =
    /^[a-z]+$/.test(command) && !words.startsWith('unknown command') ? `${command} ` : '';
  return `${words}; see hopgauge ${page}--help`;
}

/** A line made safe; its indent stays, since an example may be copied from it. */
function indented(line: string): string {
  const [indent = ''] = /^ */.exec(line) ?? [];
  return `${indent}${cleanText(line, lineLengthMax)}`;
}
