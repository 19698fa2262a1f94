import { type ChildProcess, spawn } from 'node:child_process';
import type { Trouble } from '../../facts/trouble.ts';
import { scriptFor } from '../script-for.ts';
import type { ReadLimits, RunScript, ScriptOutcome } from '../types.ts';

/** Where the shell looks for commands; the script adds the directories of administration. */
const searchPath = '/usr/local/bin:/usr/bin:/bin';

/** How the shell is started: a process group of its own, and nothing of the operator's. */
export const shellOptions = {
  cwd: '/',
  detached: true,
  env: { PATH: searchPath, LC_ALL: 'C' },
  stdio: ['pipe', 'pipe', 'ignore'] as ['pipe', 'pipe', 'ignore'],
};

/**
 * Runs scripts on this machine by `sh -s`, with no environment of the operator's but a search
 * path. The shell leads a process group of its own, which is killed whole at the end of the time
 * or size limit, or when the signal says so.
 */
export function localRunner(): RunScript {
  return (script, limits, signal) =>
    new Promise((resolve) => {
      if (signal.aborted) resolve({ ok: false, trouble: stopped });
      else runShell(scriptFor(script, 'sh'), { limits, signal, resolve });
    });
}

interface Run {
  readonly limits: ReadLimits;
  readonly signal: AbortSignal;
  readonly resolve: (outcome: ScriptOutcome) => void;
}

function runShell(script: string, { limits, signal, resolve }: Run): void {
  const shell = spawn('sh', ['-s'], shellOptions);
  const chunks: Buffer[] = [];
  let size = 0;
  let settled = false;
  const settle = (outcome: ScriptOutcome) => {
    if (settled) return;
    settled = true;
    clearTimeout(timer);
    signal.removeEventListener('abort', onAbort);
    if (!outcome.ok) killGroup(shell);
    resolve(outcome);
  };
  const fail = (trouble: Trouble) => settle({ ok: false, trouble });
  const onAbort = () => fail(stopped);
  const onTime = () => {
    const came = size === 0 ? {} : { came: { output: Buffer.concat(chunks) } };
    settle({ ok: false, trouble: timeOver(limits), ...came });
  };
  const timer = setTimeout(onTime, limits.wholeMs);
  signal.addEventListener('abort', onAbort, { once: true });
  shell.on('error', (error) => fail(noShell(error)));
  shell.stdout.on('data', (chunk: Buffer) => {
    size += chunk.length;
    if (size > limits.outputBytesMax) fail(overlong(limits));
    else chunks.push(chunk);
  });
  shell.on('close', () => settle({ ok: true, output: Buffer.concat(chunks) }));
  // A shell that ends early closes the pipe; its output then tells what happened.
  shell.stdin.on('error', () => {});
  shell.stdin.end(script);
}

/** Ends a shell and all that it runs; nothing where they have ended. */
export function killGroup(shell: ChildProcess): void {
  shell.stdout?.destroy();
  if (shell.pid === undefined) return;
  try {
    process.kill(-shell.pid, 'SIGKILL');
  } catch {
    // The group has already ended.
  }
}

/** The run ended before this machine was read. */
export const stopped: Trouble = {
  kind: 'time-over',
  seen: 'stopped before this machine was read',
  remedy: 'run it again and let it finish',
};

function timeOver(limits: ReadLimits): Trouble {
  return {
    kind: 'time-over',
    seen: `this machine was not read within ${limits.wholeMs} ms`,
    remedy: 'raise the time limit, or see which command hangs with --show-commands',
  };
}

function overlong(limits: ReadLimits): Trouble {
  return {
    kind: 'overlong',
    seen: `more than ${limits.outputBytesMax} bytes of answer`,
    remedy: 'raise the size limit if this machine really has that many ports',
  };
}

/** What it means that `sh` could not be started here. */
export function noShell(error: Error): Trouble {
  const code = 'code' in error && typeof error.code === 'string' ? error.code : 'unknown error';
  return {
    kind: 'shell-refused',
    seen: `sh could not be started: ${code}`,
    remedy: 'let this account run sh',
  };
}
