import { randomBytes } from 'node:crypto';
import { open, readFile, realpath, rename, rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { outOfFilesCode } from '../../facts/out-of-files.ts';
import { makeFolder } from '../../files/make-folder.ts';
import { type KnownHost, parseKnownHosts } from './known-hosts.ts';

/** Largest known_hosts file that is read, in bytes. */
export const knownHostsBytesMax = 8 * 1024 * 1024;

/**
 * All entries of several known_hosts files, in their order; a missing file has none.
 *
 * @throws where no more files can be opened
 */
export async function readKnownHosts(files: readonly string[]): Promise<readonly KnownHost[]> {
  const read = await Promise.all(
    files.map(async (file) => parseKnownHosts(file, await text(file))),
  );
  return read.flat();
}

async function text(file: string): Promise<string> {
  try {
    const about = await stat(file);
    // An entry that is not seen leads to a refusal, never to trust: a skipped file is safe.
    if (!about.isFile() || about.size > knownHostsBytesMax) return '';
    return await readFile(file, 'utf8');
  } catch (error) {
    if (outOfFilesCode(error) !== undefined) throw error;
    return '';
  }
}

/**
 * Appends one line to a known_hosts file, which is made with mode 0600 where it is missing. The
 * file is replaced in one step: a reader sees the old one or the new one. Throws when the folder
 * cannot be written. To be called only after the operator said yes.
 */
export async function appendKnownHost(file: string, line: string): Promise<void> {
  if (!/^[!-~]+ [!-~]+ [A-Za-z0-9+/=]+$/.test(line)) {
    throw new Error('not a known_hosts line of name, key type and key');
  }
  makeFolder(dirname(file), 0o700);
  // A symbolic link stays one: what it points to is replaced.
  const target = await realpath(file).catch(() => file);
  const before = await readFile(target, 'utf8').catch(whenMissing);
  const gap = before === '' || before.endsWith('\n') ? '' : '\n';
  const fresh = `${target}.${randomBytes(6).toString('hex')}.new`;
  try {
    const handle = await open(fresh, 'wx', 0o600);
    try {
      await handle.writeFile(`${before}${gap}${line}\n`);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(fresh, target);
  } catch (error) {
    await rm(fresh, { force: true });
    throw error;
  }
}

function whenMissing(error: NodeJS.ErrnoException): string {
  if (error.code === 'ENOENT') return '';
  throw error;
}
