import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Whether a program of Debian is here; `verify` installs them all. */
export const has = (program: string): boolean => existsSync(`/usr/bin/${program}`);

/** How a shell is started on a terminal without anybody's settings, and made ready to complete. */
const interactive = {
  bash: { command: 'bash --norc --noprofile -i', ready: 'true' },
  zsh: { command: 'zsh -f -i', ready: 'autoload -U compinit; compinit -u -D' },
} as const;

/** Stands for the program: says how it was called. */
const stand = "hopgauge() { printf 'called'; printf ' <%s>' \"$@\"; echo; }";

/**
 * Types lines at a real shell on a terminal of its own, tab keys included, and gives how the program
 * was called: one entry for each line that called it.
 */
export async function typed(
  shell: keyof typeof interactive,
  script: string,
  lines: readonly string[],
  folder: string,
): Promise<readonly string[]> {
  const { command, ready } = interactive[shell];
  const keys = ["PS1=''", stand, ready, `source ${script}`, ...lines, 'exit'];
  const shown = await ended(
    'script',
    ['-qec', command, '/dev/null'],
    folder,
    `${keys.join('\n')}\n`,
  );
  return shown.split(/\r*\n/).flatMap((line) => /^called (.*)$/.exec(line)?.[1] ?? []);
}

/** Runs a program to its end; what it said on both outputs. Fails where its status is not 0. */
export function ended(
  program: string,
  argv: readonly string[],
  folder: string,
  input = '',
): Promise<string> {
  return new Promise((done, failed) => {
    const child = spawn(program, argv, {
      cwd: folder,
      env: { PATH: process.env['PATH'], HOME: folder, TERM: 'dumb', LC_ALL: 'C.UTF-8' },
      timeout: 15_000,
      killSignal: 'SIGKILL',
    });
    let said = '';
    const take = (chunk: Buffer) => {
      said += chunk.toString();
    };
    child.stdout.on('data', take);
    child.stderr.on('data', take);
    child.on('error', failed);
    child.on('close', (code) => {
      if (code === 0) done(said);
      else failed(new Error(`${program} ended with ${code}: ${said}`));
    });
    // A program that needs no input may have ended before it is given any.
    child.stdin.on('error', () => {});
    child.stdin.end(input);
  });
}
