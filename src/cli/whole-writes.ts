import { fstatSync, writeFileSync } from 'node:fs';
import type { Writable } from 'node:stream';
import { setImmediate } from 'node:timers/promises';

/**
 * Writes to a stream of the process. To a file it writes by itself: of what a disk that fills takes
 * only the beginning, Node's own stream says nothing (seen with Node 20.20), and what is left
 * fails only when it is tried.
 */
export function writerTo(stream: Writable & { readonly fd: number }): (text: string) => void {
  if (!isFile(stream.fd)) return (text) => void stream.write(text);
  return (text) => {
    try {
      writeFileSync(stream.fd, text);
    } catch (error) {
      stream.destroy(error instanceof Error ? error : new Error(String(error)));
    }
  };
}

function isFile(fd: number): boolean {
  try {
    return fstatSync(fd).isFile();
  } catch {
    return false;
  }
}

/**
 * Waits until all that was given to a stream is written, and gives the system's code where some of
 * it could not be since it was last asked: a service lives on when its disk has room again.
 */
export function settledOn(stream: Writable): () => Promise<string | undefined> {
  let failed: string | undefined;
  stream.on('error', ({ code = 'unknown fault' }: NodeJS.ErrnoException) => {
    if (code !== 'EPIPE') failed ??= code;
  });
  return async () => {
    // It calls back after what was written before, whatever became of that.
    await new Promise<void>((done) => void stream.write('', () => done()));
    await setImmediate();
    const code = failed;
    failed = undefined;
    return code;
  };
}
