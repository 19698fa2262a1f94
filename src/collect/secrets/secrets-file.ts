import { constants, type Stats } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import type { Secret } from '../types.ts';
import { makeSecret } from './secret.ts';

/** Largest secrets file, in bytes. */
export const secretsFileBytesMax = 256 * 1024;

/** The secrets of a file by name, or why the file is not used. */
export type SecretsFile =
  | { readonly ok: true; readonly secrets: ReadonlyMap<string, Secret> }
  /** `refusal` names file, what was seen and what to do; never a value. */
  | { readonly ok: false; readonly refusal: string };

/**
 * Reads `NAME=value` lines. A value is all that follows the first `=`, spaces and quotes included;
 * empty lines and lines that begin with `#` are skipped. A file that does not exist holds no
 * secrets; one that others can read, or that another account owns, is refused.
 */
export async function readSecretsFile(path: string, ownerId: number): Promise<SecretsFile> {
  let file: FileHandle;
  try {
    // Not blocking, so that a named pipe in its place cannot hold the audit.
    file = await open(path, constants.O_RDONLY | constants.O_NONBLOCK);
  } catch (error) {
    return whenUnopened(path, error);
  }
  try {
    // The opened file is judged, not its name, so that it cannot be swapped in between.
    const refusal = refusalOf(path, await file.stat(), ownerId);
    if (refusal !== undefined) return { ok: false, refusal };
    return parseSecrets(path, await file.readFile('utf8'));
  } catch {
    return { ok: false, refusal: `${path}: the secrets file cannot be read` };
  } finally {
    await file.close();
  }
}

function whenUnopened(path: string, error: unknown): SecretsFile {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT' || code === 'ENOTDIR') return { ok: true, secrets: new Map() };
  return { ok: false, refusal: `${path}: the secrets file cannot be opened (${code ?? 'error'})` };
}

function refusalOf(path: string, stats: Stats, ownerId: number): string | undefined {
  if (!stats.isFile()) return `${path}: not a regular file; give the path of a file`;
  if (stats.uid !== ownerId) {
    return `${path}: owned by user id ${stats.uid}, not by you; make a file of your own`;
  }
  const mode = stats.mode & 0o777;
  if ((mode & 0o077) !== 0) {
    const shown = mode.toString(8).padStart(4, '0');
    return `${path}: mode ${shown} lets others at the secrets; run: chmod 600 ${path}`;
  }
  if (stats.size > secretsFileBytesMax) {
    return `${path}: ${stats.size} bytes; a secrets file has at most ${secretsFileBytesMax}`;
  }
  return undefined;
}

const secretLine = /^([A-Za-z_][A-Za-z0-9_.-]*)=(.+)$/;

/** Parses the text of a secrets file. A faulty line is named by its number, never shown. */
export function parseSecrets(path: string, text: string): SecretsFile {
  const secrets = new Map<string, Secret>();
  for (const [index, line] of text
    .replace(/^\ufeff/, '')
    .split(/\r?\n/)
    .entries()) {
    if (/^\s*(#|$)/.test(line)) continue;
    const found = secretLine.exec(line);
    const [, name, value] = found ?? [];
    if (name === undefined || value === undefined) {
      return { ok: false, refusal: `${path}:${index + 1}: not a line of the form NAME=value` };
    }
    if (secrets.has(name)) {
      return { ok: false, refusal: `${path}:${index + 1}: ${name} is given a second time` };
    }
    secrets.set(name, makeSecret(value));
  }
  return { ok: true, secrets };
}

/** `hopgauge/secrets` in the configuration folder of the XDG Base Directory Specification. */
export function defaultSecretsPath(env: NodeJS.ProcessEnv, home: string): string {
  const base = env['XDG_CONFIG_HOME'];
  // The specification: a relative path in it is to be ignored.
  return `${base?.startsWith('/') ? base : `${home}/.config`}/hopgauge/secrets`;
}
