import { createRequire } from 'node:module';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { findEngine, type OpenEngine } from '../../src/history/sqlite-engine.ts';
import { StoreFault, storeFault } from '../../src/history/store-fault.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { knownFrom } from '../drift/nights.ts';
import { nightOf, openOn, ownFolder } from './store.ts';

const require = createRequire(import.meta.url);
const hasOwn = tried(() => require('node:sqlite'));
const hasPackage = tried(() => new (require('better-sqlite3'))(':memory:').close());

function tried(work: () => unknown): boolean {
  try {
    work();
    return true;
  } catch {
    return false;
  }
}

/** The bindings that this machine has: by what version of Node each is chosen. */
const bindings = [
  ...(hasOwn ? [['of Node', '24.0.0']] : []),
  ...(hasPackage ? [['of the package', '20.19.0']] : []),
] as [string, string][];

it('a binding is there to be tried', () => {
  expect(bindings.length).toBeGreaterThan(0);
});

describe.each(bindings)('the SQLite %s', (_, version) => {
  const engine = findEngine(version) as OpenEngine;
  const file = () => join(ownFolder(), 'history.sqlite');

  it('gives back what was bound, of every kind', () => {
    const database = engine(file(), { busyMs: 0 });
    database.exec('create table t (a, b, c, d, e)');
    const values = ['ö"\u2028', 1.5, 9_007_199_254_740_991, new Uint8Array([0, 255]), null];
    database.prepare('insert into t values ($1, $2, $3, $4, $5)').run(values);
    const [row] = database.prepare('select * from t where a = $1').all(['ö"\u2028']);
    expect(Object.values(row ?? {}).slice(0, 3)).toEqual(values.slice(0, 3));
    expect([...((row?.['d'] as Uint8Array) ?? [])]).toEqual([0, 255]);
    expect(row?.['e']).toBeNull();
    database.close();
  });

  it('runs a statement that gives rows and one that gives none', () => {
    const database = engine(file(), { busyMs: 0 });
    expect(database.prepare('create table t (a integer primary key, b)').all([])).toEqual([]);
    const added = database.prepare('insert into t (b) values ($1) returning a').all(['x']);
    expect(added.map((row) => row['a'])).toEqual([1]);
    expect(database.prepare('delete from t where b = $1').all(['x'])).toEqual([]);
    database.close();
  });

  it('keeps a night, and is read again', async () => {
    const store = file();
    const known = knownFrom({ ports: { xg3: { mtuBytes: 9216 } } });
    const night = nightOf(24, { known: [known], open: [openOn(nightOf(24).startedAt)] });
    const database = await openStore(store, { engine });
    await writeNight(database, night);
    await database.close();
    const again = await openStore(store, { engine, existing: true });
    const past = await readPast(again, night.site);
    expect([past.known.get('quay-sw'), past.open]).toEqual([known, night.open]);
    expect(await again.faults()).toEqual([]);
    await again.close();
  });

  it('takes back all of a transaction that fails', async () => {
    const database = await openStore(file(), { engine });
    const work = database.transaction(async () => {
      await database.all("insert into site (name) values ('half')");
      await database.all("insert into site (name) values ('half')");
    });
    await expect(work).rejects.toThrow(/UNIQUE/);
    expect(await database.all('select * from site')).toEqual([]);
    await database.close();
  });

  it('has one lock for all, which is free once it is released', () => {
    const store = file();
    const lock = takeRunLock(store, engine);
    expect(() => takeRunLock(store, engine)).toThrow(
      new StoreFault(
        'locked',
        `${store}: another audit is running on it; wait for its end, or see that it is not stuck`,
      ),
    );
    lock.release();
    takeRunLock(store, engine).release();
  });

  it('says that another run writes, and writes nothing, while one does', async () => {
    const store = file();
    const quick: OpenEngine = (path) => engine(path, { busyMs: 1 });
    const [a, b] = [
      await openStore(store, { engine: quick }),
      await openStore(store, { engine: quick }),
    ];
    await a.transaction(async () => {
      const fault = await writeNight(b, nightOf(24)).catch((error) => storeFault(store, error));
      expect(fault).toEqual(
        new StoreFault(
          'locked',
          `${store}: another run is writing it; wait for its end, and run this again`,
        ),
      );
    });
    await writeNight(b, nightOf(25));
    expect((await readPast(a, nightOf(25).site)).lastAt).toBe(nightOf(25).startedAt);
    await a.close();
    await b.close();
  });
});

it.each([['nothing'], ['v20'], ['']])(
  'a version that is none is no reason to fail: %s',
  (version) => {
    expect(findEngine(version) === undefined).toBe(!hasPackage);
  },
);
