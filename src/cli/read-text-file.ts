import { constants } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { intentFileBytesMax } from '../intent/limits.ts';
import type { ReadTextFile, TextRead } from '../intent/read-text.ts';

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  ENOTDIR: 'no such file',
  EACCES: 'permission denied',
  EPERM: 'permission denied',
  ELOOP: 'symbolic links in a circle',
  ENAMETOOLONG: 'the name is too long',
  ENXIO: 'not a regular file',
};

/**
 * Reader of the operator's text files: regular files of at most `bytesMax` bytes in UTF-8. A byte
 * order mark is dropped. Never throws; the reason is in plain words.
 */
export function textFileReader(bytesMax: number = intentFileBytesMax): ReadTextFile {
  return async (path) => {
    let handle: FileHandle | undefined;
    try {
      // Without O_NONBLOCK, to open a named pipe would wait for a writer for ever.
      handle = await open(path, constants.O_RDONLY | constants.O_NONBLOCK);
      return await readHandle(handle, bytesMax);
    } catch (error) {
      return { ok: false, reason: reasonOf(error) };
    } finally {
      await handle?.close();
    }
  };
}

async function readHandle(handle: FileHandle, bytesMax: number): Promise<TextRead> {
  if (!(await handle.stat()).isFile()) return { ok: false, reason: 'not a regular file' };
  const bytes = await readUpTo(handle, bytesMax + 1);
  if (bytes.length > bytesMax) return { ok: false, reason: `it is longer than ${bytesMax} bytes` };
  const text = decodeUtf8(bytes);
  return text === undefined ? { ok: false, reason: 'not UTF-8 text' } : { ok: true, text };
}

// The size that the system tells may grow meanwhile, and is 0 for files of /proc.
async function readUpTo(handle: FileHandle, bytesMax: number): Promise<Buffer> {
  const buffer = Buffer.alloc(bytesMax);
  let length = 0;
  while (length < bytesMax) {
    const { bytesRead } = await handle.read(buffer, length, bytesMax - length, null);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return buffer.subarray(0, length);
}

function decodeUtf8(bytes: Buffer): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function reasonOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return reasons[code] ?? `it cannot be opened${code === '' ? '' : ` (${code})`}`;
}
