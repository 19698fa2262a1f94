import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { writerOn } from '../history/killed.ts';
import { must } from './harness/command.ts';

// Disks as the store may meet them, each in a mount namespace that ends with the program in it.

function folderHere(): string {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-disk-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Lets nights be written in `folder` after `lay` was run there; gives what the writer said. */
async function writtenOn(folder: string, lay: string): Promise<readonly unknown[]> {
  const words = writerOn(join(folder, 'history.sqlite'));
  const script = `cd "$1" && ${lay} && shift && exec "$@"`;
  const argv = [
    'unshare',
    '--mount',
    '--propagation',
    'private',
    'sh',
    '-ec',
    script,
    'sh',
    folder,
  ];
  const said = await must([...argv, ...words], { timeoutMs: 60_000 });
  return said.trimEnd().split('\n').map(parseJson);
}

describe('a store on a disk', () => {
  it.each([
    ['1m', 1],
    ['3m', 8],
  ])('of %s that is full: says so, and keeps every whole night', async (size, least) => {
    const folder = folderHere();
    const said = await writtenOn(folder, `mount -t tmpfs -o size=${size} tmpfs . && cd .`);
    const [opened, fault, after] = said;
    expect(opened).toEqual({ open: 0 });
    expect(fault).toMatchObject({ kind: 'unusable' });
    expect(JSON.stringify(fault)).toMatch(
      /history\.sqlite: (the disk is full; make room, the store is as it was before this run|the disk failed)/,
    );
    expect(after).toMatchObject({ faults: [] });
    expect((after as { kept: number }).kept).toBeGreaterThanOrEqual(least);
    // It was on the disk of the namespace and nowhere else.
    expect(existsSync(join(folder, 'history.sqlite'))).toBe(false);
  });

  it('that may only be read: says so, and makes nothing', async () => {
    const folder = folderHere();
    const said = await writtenOn(folder, 'mount -t tmpfs -o ro tmpfs .');
    expect(said.length).toBe(1);
    expect(said).toEqual([
      {
        kind: 'unusable',
        message: `${folder}/history.sqlite: it cannot be opened; look at the folder and its rights (SQLITE_CANTOPEN)`,
      },
    ]);
  });
});
