import { randomBytes } from 'node:crypto';
import { open, realpath, rename, rm, stat } from 'node:fs/promises';
import { makeFolder } from '../files/make-folder.ts';
import { batches } from './batches.ts';
import type { Audience, Text, Written } from './io.ts';

/** Modes of new files. */
const modes: Readonly<Record<Audience, number>> = { owner: 0o600, everyone: 0o644 };

const reasons: Readonly<Record<string, string>> = {
  EACCES: 'permission denied',
  EISDIR: 'it is a folder',
  ENOENT: 'its folder does not exist',
  ENOSPC: 'the disk is full',
  ENOTDIR: 'its folder does not exist',
  EPERM: 'permission denied',
  EROFS: 'the file system is read-only',
};

/**
 * Writes a file whole or not at all: beside its place first, then moved there. A device or pipe
 * that stands there is written to as it is. `flush` false leaves it to the system when it reaches
 * the disk: for a file that is made again from what is kept elsewhere. Never throws.
 */
export async function writeFileWhole(
  path: string,
  text: Text,
  audience: Audience = 'everyone',
  { flush }: { readonly flush: boolean } = { flush: true },
): Promise<Written> {
  // A symbolic link stays one: what it points to is replaced.
  const target = await realpath(path).catch(() => path);
  const fresh = `${target}.${randomBytes(6).toString('hex')}.new`;
  try {
    if (await isSpecial(target)) return await writeTo(target, 'w', text);
    await writeTo(fresh, 'wx', text, { mode: modes[audience], flush });
    await rename(fresh, target);
    return { ok: true };
  } catch (error) {
    await rm(fresh, { force: true }).catch(() => {});
    return refusal(error);
  }
}

/**
 * Whether `writeFileWhole` could write there now: asked before a reading that takes minutes, so
 * that it is not lost. Leaves nothing behind. Never throws.
 */
export async function canWriteFile(path: string): Promise<Written> {
  const target = await realpath(path).catch(() => path);
  const fresh = `${target}.${randomBytes(6).toString('hex')}.new`;
  try {
    if (await isSpecial(target)) return { ok: true };
    if (await isFolder(target)) return { ok: false, reason: reasons['EISDIR'] ?? '' };
    await writeTo(fresh, 'wx', '');
    return { ok: true };
  } catch (error) {
    return refusal(error);
  } finally {
    await rm(fresh, { force: true }).catch(() => {});
  }
}

/** Makes a folder, and those above it, for its owner alone; one that is there stays. Never throws. */
export async function makeOwnFolder(path: string): Promise<Written> {
  try {
    makeFolder(path, 0o700);
    return { ok: true };
  } catch (error) {
    return refusal(error);
  }
}

function refusal(error: unknown): Written {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return { ok: false, reason: reasons[code] ?? `it cannot be written (${code || 'error'})` };
}

async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

async function isSpecial(path: string): Promise<boolean> {
  const handle = await open(path, 'r').catch(() => undefined);
  if (handle === undefined) return false;
  try {
    const stats = await handle.stat();
    return stats.isCharacterDevice() || stats.isFIFO();
  } finally {
    await handle.close();
  }
}

async function writeTo(
  path: string,
  flags: 'w' | 'wx',
  text: Text,
  { mode, flush } = { mode: modes.everyone, flush: true },
): Promise<Written> {
  const handle = await open(path, flags, mode);
  try {
    for (const batch of batches(text)) await handle.writeFile(batch);
    if (flags === 'wx' && flush) await handle.sync();
    return { ok: true };
  } finally {
    await handle.close();
  }
}
