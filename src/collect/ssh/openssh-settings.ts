import { execFile } from 'node:child_process';
import { outOfFilesCode } from '../../facts/out-of-files.ts';
import type { Directives, SshWish } from './ssh-settings.ts';
import { isSafeHost, isSafeUser } from './ssh-settings.ts';

/** Longest that `ssh -G` may take, and the most it may print. */
export const openSshTimeMsMax = 5_000;
/** Longest output of `ssh -G` that is read, in bytes. */
export const openSshBytesMax = 256 * 1024;

/**
 * Asks OpenSSH itself what its configuration says of a host: `ssh -G` connects to nothing.
 * Undefined where there is no OpenSSH, or where it does not answer.
 *
 * @throws where no more files can be opened
 */
export async function askOpenSsh(
  wish: SshWish,
  options: { readonly program?: string; readonly configFile?: string } = {},
): Promise<Directives | undefined> {
  // A name that begins with a dash would be an option; one with metacharacters might reach the
  // shell through a `Match exec` of the operator's.
  if (!isSafeHost(wish.host) || (wish.user !== undefined && !isSafeUser(wish.user))) {
    return undefined;
  }
  const args = ['-G', '-T'];
  if (options.configFile !== undefined) args.push('-F', options.configFile);
  if (wish.user !== undefined) args.push('-l', wish.user);
  if (wish.port !== undefined) args.push('-p', String(wish.port));
  args.push('--', wish.host);
  const text = await run(options.program ?? 'ssh', args);
  return text === undefined ? undefined : parseOpenSshSettings(text);
}

function run(program: string, args: readonly string[]): Promise<string | undefined> {
  return new Promise((resolve, reject) => {
    const limits = { timeout: openSshTimeMsMax, maxBuffer: openSshBytesMax };
    const child = execFile(program, args, limits, (error, stdout) => {
      // There is an OpenSSH, and nobody asked it: a library that knows less must not stand in for it.
      if (outOfFilesCode(error) !== undefined) reject(error);
      else resolve(error === null ? stdout : undefined);
    });
    child.stdin?.end();
  });
}

/** Directives whose value is a list of words on one line of `ssh -G`. */
const lists: ReadonlySet<string> = new Set(['userknownhostsfile', 'globalknownhostsfile']);

/** Reads the output of `ssh -G`: lines of lower-case name, blank and value. */
export function parseOpenSshSettings(text: string): Directives {
  const found = new Map<string, string[]>();
  for (const line of text.split('\n')) {
    const [, name, value] = /^([a-z0-9]+) (.+?)\r?$/.exec(line) ?? [];
    if (name === undefined || value === undefined) continue;
    const values = lists.has(name) ? value.split(' ') : [value];
    found.set(name, [...(found.get(name) ?? []), ...values]);
  }
  return found;
}
