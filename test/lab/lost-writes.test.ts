import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Database } from '../../src/history/database.ts';
import { heldNow, keepNight } from '../../src/history/keep-night.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readPast } from '../../src/history/read-past.ts';
import { isLost } from '../../src/history/server-fault.ts';
import { serverPlace } from '../../src/history/server-place.ts';
import type { ServerStore } from '../../src/history/store-place.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { faultsOf, lastNumber, numberedNight } from '../history/night-writer.ts';
import { type PgServer, startPostgres, stopPostgres } from './harness/postgres.ts';

// The session with a real PostgreSQL is cut at the n-th statement that a night writes, for every n, before
// the statement and after its answer. What SQLite is held to: test/history/lost-writes.test.ts.

let server: PgServer;
let store: ServerStore;
beforeAll(async () => {
  server = await startPostgres();
  await server.sql('create database lost_writes');
  const address = `postgres://postgres@127.0.0.1:${server.port}/lost_writes`;
  store = { place: serverPlace(address, {}, 'nobody'), askPassword: async () => server.password };
  const database = await openStore(store);
  await writeNight(database, numberedNight(1));
  await database.close();
});
afterAll(() => stopPostgres(server));

/** Ends all sessions of the store and waits until they are gone. */
const cut = () =>
  server.sql(
    `select count(pg_terminate_backend(pid, 5000)) from pg_stat_activity where datname = 'lost_writes'`,
  );

interface Course {
  ran: number;
  readonly cutAt: number;
  readonly when: 'before' | 'after';
}

/** The database, whose session is cut once, at the statement of that number. */
function cutting(database: Database, course: Course): Database {
  const step = async <T>(work: () => Promise<T>): Promise<T> => {
    const struck = course.ran === course.cutAt;
    course.ran += 1;
    if (struck && course.when === 'before') await cut();
    const answer = await work();
    if (struck && course.when === 'after') await cut();
    return answer;
  };
  return {
    ...database,
    all: (sql, values) => step(() => database.all(sql, values)),
    each: (sql, lists) => step(() => database.each(sql, lists)),
  };
}

/** Gives the number of the last night, of which all has to be there, and nothing of another. */
async function wholeNights(what: string): Promise<number> {
  const database = await openStore(store);
  expect(await faultsOf(database), what).toEqual([]);
  const number = lastNumber(await readPast(database, numberedNight(1).site));
  await database.close();
  return number;
}

async function opened<T>(work: (database: Database) => Promise<T>): Promise<T> {
  const database = await openStore(store);
  try {
    return await work(database);
  } finally {
    await database.close();
  }
}

const never = Number.POSITIVE_INFINITY;

describe('the session is cut at the n-th statement of a night', () => {
  it.each(['before', 'after'] as const)('%s it: nothing of the night is kept', async (when) => {
    const first = await wholeNights('to begin with');
    let tried = 0;
    for (let ended = false; !ended; tried += 1) {
      const course: Course = { ran: 0, cutAt: tried, when };
      const error = await opened((database) =>
        writeNight(cutting(database, course), numberedNight(first + 1)).catch(
          (why: unknown) => why,
        ),
      );
      // The first number that no statement has: the night is written.
      ended = course.ran <= tried;
      expect(ended ? error : isLost(error), `at statement ${tried}`).toBe(ended ? undefined : true);
      const kept = await wholeNights(`at statement ${tried}`);
      expect(kept, `at statement ${tried}`).toBe(ended ? first + 1 : first);
    }
    console.log(`history on a server, cut ${when} a statement: ${tried - 1}, each undone`);
    expect(tried).toBeGreaterThan(15);
  });

  it('and an audit writes it once more, whole and once', async () => {
    let number = await wholeNights('to begin with');
    const count: Course = { ran: 0, cutAt: never, when: 'before' };
    await opened((database) => writeNight(cutting(database, count), numberedNight(number + 1)));
    number += 1;
    for (let cutAt = 0; cutAt < count.ran; cutAt += 1) {
      await opened(async (database) => {
        const held = await heldNow(database, numberedNight(1).site);
        const night = numberedNight(number + 1);
        await keepNight(cutting(database, { ran: 0, cutAt, when: 'before' }), held, { night });
      });
      number += 1;
      expect(await wholeNights(`at statement ${cutAt}`), `at statement ${cutAt}`).toBe(number);
    }
    console.log(`history on a server: ${count.ran} nights, each written again and kept once`);
  });
});
