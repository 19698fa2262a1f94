import { mkdirSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';

/**
 * Makes a folder, and those above it that are missing, with `mode` less the umask; one that is
 * there stays as it is. Throws the fault of the system that hindered it.
 *
 * Node's own way of making them all (`recursive`) asks for ever where a file system answers ENOENT
 * although the folder above is there, as automounted homes and /proc do (seen with Node 20.20).
 */
export function makeFolder(folder: string, mode = 0o777): void {
  const missing: string[] = [];
  let at = resolve(folder);
  while (!isFolder(at) && dirname(at) !== at) {
    missing.unshift(at);
    at = dirname(at);
  }
  for (const each of missing) makeOne(each, mode);
}

function makeOne(folder: string, mode: number): void {
  try {
    mkdirSync(folder, mode);
  } catch (error) {
    // Somebody else may have made it in between.
    if (!isFolder(folder)) throw error;
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}
