import { chmodSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { storeVersion } from '../../src/history/migrations.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { findEngine } from '../../src/history/sqlite-engine.ts';
import { StoreFault } from '../../src/history/store-fault.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { eachNight, ownFolder } from './store.ts';

const site = eachNight(0).site;

async function faultOf(work: Promise<unknown>): Promise<StoreFault> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof StoreFault)) throw new Error(`no store fault but ${String(error)}`);
  return error;
}

describe('a store', () => {
  it('is made with its folder, for its owner alone', async () => {
    const file = join(ownFolder(), 'state', 'hopgauge', 'history.sqlite');
    await (await openStore(file)).close();
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(join(file, '..')).mode & 0o777).toBe(0o700);
  });

  it('becomes its owner’s alone again', async () => {
    const file = join(ownFolder(), 'history.sqlite');
    await (await openStore(file)).close();
    chmodSync(file, 0o644);
    await (await openStore(file)).close();
    expect(statSync(file).mode & 0o777).toBe(0o600);
  });

  it('is not made by one who only wants to read it', async () => {
    const file = join(ownFolder(), 'history.sqlite');
    const fault = await faultOf(openStore(file, { existing: true }));
    expect(fault.message).toBe(
      `${file}: there is no history yet; hopgauge audit --changes begins one`,
    );
    expect(existsSync(file)).toBe(false);
  });

  it('of a later version is left alone', async () => {
    const file = join(ownFolder(), 'history.sqlite');
    const store = await openStore(file);
    await writeNight(store, eachNight(0));
    await store.all('update store_version set version = $1', [storeVersion + 3]);
    await store.close();
    const bytes = readFileSync(file);
    const fault = await faultOf(openStore(file));
    expect(fault.message).toContain(
      `written by a later hopgauge (version ${storeVersion + 3} of the store, this one knows ${storeVersion})`,
    );
    expect(readFileSync(file).equals(bytes)).toBe(true);
  });

  it('is told from what is no store, and from one that is damaged', async () => {
    const text = join(ownFolder(), 'notes.txt');
    writeFileSync(text, 'no database, and longer than the hundred bytes of a header '.repeat(20));
    expect((await faultOf(openStore(text))).message).toBe(
      `${text}: it is no store of hopgauge; name another file with --store (SQLITE_NOTADB)`,
    );
    const file = join(ownFolder(), 'history.sqlite');
    const store = await openStore(file);
    await writeNight(store, eachNight(0));
    await store.all('update node_state set body = $1', [new Uint8Array([1, 2, 3])]);
    const fault = await faultOf(readPast(store, site));
    await store.close();
    expect(fault.message).toContain('the store is damaged (the state of quay-sw)');
  });

  it('has an engine on this Node', () => {
    expect(findEngine()).toBeDefined();
  });

  it('in a folder that is none, is told', async () => {
    const file = join(ownFolder(), 'file');
    writeFileSync(file, '');
    const fault = await faultOf(openStore(join(file, 'history.sqlite')));
    expect(fault.message).toContain('it cannot be opened; look at the folder and its rights');
  });

  it('keeps nights in their order when the clock jumps back', async () => {
    const store = await openStore(join(ownFolder(), 'history.sqlite'));
    await writeNight(store, eachNight(9));
    await writeNight(store, eachNight(3));
    const { known, open } = await readPast(store, site);
    await store.close();
    expect(known.get('quay-sw')?.seenAt).toBe(eachNight(3).startedAt);
    expect(open.map(({ what }) => what)).toEqual(['night 3']);
  });
});

describe('the lock of a run', () => {
  it('keeps a second audit out until it is released', () => {
    const file = join(ownFolder(), 'history.sqlite');
    const lock = takeRunLock(file);
    const second = () => takeRunLock(file);
    expect(second).toThrow(
      expect.objectContaining({
        kind: 'locked',
        message: `${file}: another audit is running on it; wait for its end, or see that it is not stuck`,
      }),
    );
    lock.release();
    second().release();
  });
});
