import { spawn } from 'node:child_process';
import { access } from 'node:fs/promises';
import { cleanText } from '../facts/clean-text.ts';
import { type Delivered, reasonOf } from './delivered.ts';
import { within } from './within.ts';

/** A line for the log of this machine. */
export interface LocalLine {
  /** Severity in the words that `logger -p` takes. */
  readonly priority: 'err' | 'warning' | 'notice' | 'info';
  /** One line without line breaks. */
  readonly text: string;
}

/** How the log of this machine is reached. */
export interface LocalLog {
  /** `local0` to `local7`. */
  readonly facility: string;
  /** Program and first arguments; absent: `logger`, from the search path. */
  readonly command?: readonly string[];
}

/** Longest time of one `logger`, in milliseconds. */
const loggerMsMax = 5000;
/** What is kept of its complaints, in characters. */
const complaintLengthMax = 200;

const priorities = ['err', 'warning', 'notice', 'info'] as const;

/**
 * Gives lines to the log of this machine through `logger`, since Node has no datagram sockets in
 * the file system. One process for each severity, gravest first; the lines go in by its standard
 * input, so that none is ever an argument. `-t` and `-p` are all that it is asked, which Linux,
 * BSD and macOS share.
 */
export async function writeLocalLog(
  lines: readonly LocalLine[],
  { facility, command = ['logger'] }: LocalLog,
  signal: AbortSignal,
): Promise<Delivered> {
  const missing = command.length === 1 ? await missingSocket() : undefined;
  if (missing !== undefined) return missing;
  for (const priority of priorities) {
    const own = lines.filter((line) => line.priority === priority).map(({ text }) => text);
    if (own.length === 0) continue;
    const argv = [...command, '-t', 'hopgauge', '-p', `${facility}.${priority}`];
    const done = await runLogger(argv, `${own.join('\n')}\n`, signal);
    if (!done.ok) return done;
  }
  return { ok: true };
}

/** Without its socket `logger` of Linux may drop every line and still end with 0. */
async function missingSocket(): Promise<Delivered | undefined> {
  if (process.platform !== 'linux') return undefined;
  return access('/dev/log').then(
    () => undefined,
    () => ({ ok: false, reason: '/dev/log is not there: no log runs on this machine' }),
  );
}

function runLogger(
  [program = '', ...args]: readonly string[],
  input: string,
  signal: AbortSignal,
): Promise<Delivered> {
  return within({ msMax: loggerMsMax, signal }, (settle) => {
    const child = spawn(program, args, { stdio: ['pipe', 'ignore', 'pipe'] });
    let complaint = '';
    child.stderr.setEncoding('utf8');
    child.stderr.on('data', (text: string) => {
      complaint = (complaint + text).slice(0, complaintLengthMax);
    });
    child.on('error', (error) => settle({ ok: false, reason: reasonOf(error) }));
    // A logger that ends early says why by its status.
    child.stdin.on('error', () => {});
    child.on('close', (status) => {
      if (status === 0) settle({ ok: true });
      else settle({ ok: false, reason: loggerWords(status, complaint) });
    });
    child.stdin.end(input);
    return () => {
      if (child.exitCode === null && child.signalCode === null) child.kill('SIGKILL');
    };
  });
}

function loggerWords(status: number | null, complaint: string): string {
  const said = cleanText(complaint.trim(), complaintLengthMax);
  return `logger ended with ${status ?? 'a signal'}${said === '' ? '' : `: ${said}`}`;
}
