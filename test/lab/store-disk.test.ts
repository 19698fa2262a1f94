import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Night } from '../../src/drift/night.ts';
import { checkStore } from '../../src/history/keep-store.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { storeFault } from '../../src/history/store-fault.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { eachNight } from '../history/store.ts';

// A disk of its own that is small enough to fill: a tmpfs, which only root may mount.
let disk = '';
beforeEach(() => {
  disk = mkdtempSync(join(tmpdir(), 'hopgauge-disk-'));
  execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', disk]);
});
afterEach(() => {
  execFileSync('umount', [disk]);
  rmSync(disk, { recursive: true });
});

/** A night that takes some room, and does not shrink when it is packed. */
function wide(count: number): Night {
  const night = eachNight(count);
  const changes = Array.from({ length: 300 }, (_, at) => ({
    kind: 'fact' as const,
    node: 'quay-sw',
    port: `p${count}-${at}`,
    fact: 'mtuBytes',
    was: count,
    is: at,
    seenAt: night.startedAt,
  }));
  return { ...night, changes };
}

describe('a store on a disk', () => {
  it('that is full: is told, and is as it was before', async () => {
    const file = join(disk, 'history.sqlite');
    const store = await openStore(file);
    let kept = -1;
    const fault = await (async () => {
      for (let count = 0; count < 200; count += 1) {
        await writeNight(store, wide(count));
        kept = count;
      }
      throw new Error('the disk was never full');
    })().catch((error: unknown) => storeFault(file, error));
    expect(fault.message).toBe(
      `${file}: the disk is full; make room, the store is as it was before this run (SQLITE_FULL)`,
    );
    expect(kept).toBeGreaterThan(0);
    const { known } = await readPast(store, wide(0).site);
    expect(known.get('quay-sw')).toEqual(wide(kept).known[0]);
    expect(await checkStore(store)).toEqual([]);
    await store.close();
  });

  it('that may not be written: is told', async () => {
    const file = join(disk, 'history.sqlite');
    const store = await openStore(file);
    await writeNight(store, eachNight(0));
    await store.close();
    execFileSync('mount', ['-o', 'remount,ro', disk]);
    const fault = await openStore(file).then(
      () => undefined,
      (error: unknown) => error,
    );
    expect(String(fault)).toMatch(
      /history\.sqlite: .*(may not be written|cannot be opened|cannot be used)/,
    );
  });
});
