import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { findEngine, type OpenEngine, type SqliteEngine } from '../../src/history/sqlite-engine.ts';
import { StoreFault, storeFault } from '../../src/history/store-fault.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { faultsOf, lastNumber, numberedNight } from './night-writer.ts';
import { ownFolder } from './store.ts';

// The n-th statement that a night writes fails, for every n, in each way that SQLite has: the store is
// then as it was before. Result codes: https://sqlite.org/rescode.html

const engine = findEngine() as OpenEngine;

/** Each before the statement is done; the last after it, as where the answer to it is lost. */
const kinds = [
  { name: 'disk full', code: 'SQLITE_FULL', done: false },
  { name: 'disk fails', code: 'SQLITE_IOERR_WRITE', done: false },
  { name: 'may not be written', code: 'SQLITE_READONLY', done: false },
  { name: 'another writer', code: 'SQLITE_BUSY', done: false },
  { name: 'damaged', code: 'SQLITE_CORRUPT', done: false },
  { name: 'done and then lost', code: 'SQLITE_IOERR', done: true },
] as const;
type Kind = (typeof kinds)[number];

/** Statements run since the count began; the one of number `failsAt` fails. */
interface Course {
  ran: number;
  failsAt: number;
  kind: Kind;
  /** A statement that ends the transaction whatever becomes of it. */
  committed: boolean;
}

function failing(course: Course): OpenEngine {
  const step = <T>(sql: string, work: () => T): T => {
    if (sql === 'ROLLBACK') return work();
    const struck = course.ran === course.failsAt;
    course.ran += 1;
    if (struck && course.kind.done) {
      work();
      course.committed = sql === 'COMMIT';
    }
    if (struck) throw Object.assign(new Error('struck'), { code: course.kind.code });
    return work();
  };
  return (file, options) => {
    const real: SqliteEngine = engine(file, options);
    return {
      exec: (sql) => step(sql, () => real.exec(sql)),
      prepare: (sql) => {
        const statement = real.prepare(sql);
        return {
          all: (values) => step(sql, () => statement.all(values)),
          run: (values) => step(sql, () => statement.run(values)),
        };
      },
      close: () => real.close(),
    };
  };
}

async function storeOfOneNight(): Promise<string> {
  const file = join(ownFolder(), 'history.sqlite');
  const database = await openStore(file, { engine });
  await writeNight(database, numberedNight(1));
  await database.close();
  return file;
}

/** Writes the second night over a course; gives what it ended with. */
async function writeSecond(file: string, course: Course): Promise<unknown> {
  const database = await openStore(file, { engine: failing(course) });
  course.ran = 0;
  try {
    await writeNight(database, numberedNight(2));
    return undefined;
  } catch (error) {
    return storeFault(file, error);
  } finally {
    await database.close();
  }
}

const never = Number.POSITIVE_INFINITY;

describe('the n-th statement of a night fails', () => {
  it.each(kinds)('$name: the history is as it was before', { timeout: 60_000 }, async (kind) => {
    const sound: Course = { ran: 0, failsAt: never, kind, committed: false };
    expect(await writeSecond(await storeOfOneNight(), sound)).toBeUndefined();
    expect(sound.ran).toBeGreaterThan(20);
    const file = await storeOfOneNight();
    let kept = 1;
    let tried = 0;
    for (let failsAt = 0; failsAt < sound.ran && kept === 1; failsAt += 1) {
      const course: Course = { ran: never, failsAt, kind, committed: false };
      expect(await writeSecond(file, course)).toBeInstanceOf(StoreFault);
      tried += 1;
      const again = await openStore(file, { engine });
      expect(await faultsOf(again), `at statement ${failsAt}`).toEqual([]);
      kept = lastNumber(await readPast(again, 'Saltmarsh survey office'));
      await again.close();
      // Only a commit that was done and not answered leaves the night, and leaves it whole.
      expect(kept, `at statement ${failsAt}`).toBe(course.committed ? 2 : 1);
    }
    console.log(`history, ${kind.name}: ${tried} of ${sound.ran} statements failed, each undone`);
    expect(tried).toBe(sound.ran);
    expect(kept).toBe(kind.done ? 2 : 1);
  });
});
