import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { Database } from '../../src/history/database.ts';
import { heldNow, keepNight } from '../../src/history/keep-night.ts';
import { storeVersion } from '../../src/history/migrations.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readAudits } from '../../src/history/read-timeline.ts';
import { lockRun } from '../../src/history/run-lock.ts';
import { serverPlace } from '../../src/history/server-place.ts';
import { StoreFault } from '../../src/history/store-fault.ts';
import type { ServerStore } from '../../src/history/store-place.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { nightsContract } from '../history/nights-contract.ts';
import { proofsContract } from '../history/proofs-contract.ts';
import { sitePastContract } from '../history/site-past-contract.ts';
import { eachNight } from '../history/store.ts';
import { type PgServer, startPostgres, stopPostgres } from './harness/postgres.ts';

// The store on a real PostgreSQL: the same tests as of SQLite, and what only a server does.

let server: PgServer;
beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => stopPostgres(server));

let made = 0;

/** A database of its own for one test, as an address. */
async function newDatabase(): Promise<string> {
  made += 1;
  await server.sql(`create database store_${made}`);
  return `postgres://postgres@127.0.0.1:${server.port}/store_${made}`;
}

function storeAt(address: string, password: string = server.password): ServerStore {
  return { place: serverPlace(address, {}, 'nobody'), askPassword: async () => password };
}

async function opened(store: ServerStore): Promise<Database> {
  const database = await openStore(store);
  onTestFinished(() => database.close());
  return database;
}

const newStore = async () => opened(storeAt(await newDatabase()));

nightsContract(newStore);
sitePastContract(newStore);
proofsContract(newStore);

async function faultOf(work: Promise<unknown>): Promise<StoreFault> {
  const error = await work.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof StoreFault)) throw new Error(`no store fault but ${String(error)}`);
  return error;
}

const { site } = eachNight(0);
const told = () => ({ night: eachNight(0) });

describe('a store on a server', () => {
  it('is made once by many who come at one time', async () => {
    const address = await newDatabase();
    const all = await Promise.all(Array.from({ length: 6 }, () => opened(storeAt(address))));
    const versions = await Promise.all(
      all.map((each) => each.all('select version from store_version')),
    );
    expect(versions).toEqual(all.map(() => [{ version: storeVersion }]));
  });

  it('of a later version is left alone, and a reader makes none', async () => {
    const address = await newDatabase();
    const words = `postgres://postgres@127.0.0.1:${server.port}/store_${made}`;
    const none = await faultOf(openStore(storeAt(address), { existing: true }));
    expect(none.message).toBe(
      `${words}: there is no history yet; hopgauge audit --changes begins one`,
    );
    expect(
      await server.sql('select count(*) from pg_tables where schemaname = $$public$$', {
        database: `store_${made}`,
      }),
    ).toBe('0\n');
    const store = await opened(storeAt(address));
    await store.all('update store_version set version = $1', [storeVersion + 3]);
    expect((await faultOf(openStore(storeAt(address)))).message).toContain(
      `written by a later hopgauge (version ${storeVersion + 3} of the store`,
    );
  });

  it('keeps one site for one run at a time, and other sites free', async () => {
    const store = storeAt(await newDatabase());
    const [one, two] = [await opened(store), await opened(store)];
    await lockRun(store, one, site);
    expect(await faultOf(lockRun(store, two, site))).toMatchObject({
      kind: 'locked',
      message: expect.stringContaining(`another audit of ${site} is running on it`),
    });
    await lockRun(store, two, 'the depot');
    await one.close();
    const three = await opened(store);
    await lockRun(store, three, site);
  });

  it('takes nights of two sites at one time', async () => {
    const store = storeAt(await newDatabase());
    const sites = ['the depot', 'the yard', 'the pier'];
    const databases = await Promise.all(sites.map(() => opened(store)));
    await Promise.all(
      databases.map(async (database, at) => {
        for (const count of [0, 1, 2, 3])
          await writeNight(database, { ...eachNight(count), site: sites[at] ?? '' });
      }),
    );
    for (const name of sites)
      expect(await readAudits(databases[0] as Database, name)).toHaveLength(4);
  });
});

describe('a connection that is cut', () => {
  const cut = (number: number) =>
    server.sql(
      `select count(pg_terminate_backend(pid)) from pg_stat_activity where datname = 'store_${number}'`,
    );

  it('while the nodes are read costs nothing', async () => {
    const store = storeAt(await newDatabase());
    const database = await opened(store);
    await lockRun(store, database, site);
    const held = await heldNow(database, site);
    await cut(made);
    await keepNight(database, held, told());
    expect(await readAudits(database, site)).toHaveLength(1);
    // The lock was taken again with the new session.
    expect((await faultOf(lockRun(store, await opened(store), site))).kind).toBe('locked');
  });

  it('in the middle of writing leaves the night whole, once', async () => {
    const store = storeAt(await newDatabase());
    const database = await opened(store);
    const number = made;
    const held = await heldNow(database, site);
    let cuts = 0;
    const cutting: Database = {
      ...database,
      each: async (sql, lists) => {
        if (cuts === 0 && sql.includes('insert into change')) {
          cuts += 1;
          await cut(number);
        }
        await database.each(sql, lists);
      },
    };
    await keepNight(cutting, held, told());
    expect(cuts).toBe(1);
    expect(await readAudits(database, site)).toHaveLength(1);
    expect(await database.all('select count(*) as kept from change')).toEqual([{ kept: 1 }]);
  });

  it('after the night was kept does not keep it twice', async () => {
    const database = await opened(storeAt(await newDatabase()));
    const number = made;
    const held = await heldNow(database, site);
    // The answer to the commit is lost: it was done, and nobody was told.
    const deaf: Database = {
      ...database,
      transaction: async (work) => {
        await database.transaction(work);
        await cut(number);
        // Whoever waits for an answer in vain has seen the session end.
        await database.all('select 1').catch(() => undefined);
        throw Object.assign(new Error('Connection terminated unexpectedly'));
      },
    };
    await keepNight(deaf, held, told());
    expect(await readAudits(database, site)).toHaveLength(1);
  });

  it('by a restart of the server is waited for', async () => {
    const store = storeAt(await newDatabase());
    const database = await opened(store);
    const held = await heldNow(database, site);
    await server.stop('immediate');
    const kept = keepNight(database, held, told());
    await server.start();
    await kept;
    expect(await readAudits(database, site)).toHaveLength(1);
  });

  it('with another audit meanwhile refuses this one', async () => {
    const store = storeAt(await newDatabase());
    const database = await opened(store);
    await lockRun(store, database, site);
    const held = await heldNow(database, site);
    await cut(made);
    const other = await opened(store);
    await lockRun(store, other, site);
    await writeNight(other, eachNight(1));
    expect((await faultOf(keepNight(database, held, told()))).kind).toBe('locked');
    await other.close();
    const fault = await faultOf(keepNight(database, held, told()));
    expect(fault).toMatchObject({
      kind: 'locked',
      message: expect.stringContaining('another audit was kept'),
    });
    expect(await readAudits(database, site)).toHaveLength(1);
  });
});

describe('a server that does not let in', () => {
  it.each([
    [
      'wrong password',
      () => ['postgres@127.0.0.1', 'wrong'],
      /the server refused the password; .* \(28P01\)$/,
    ],
    ['no password', () => ['postgres@127.0.0.1', ''], /asks for a password and none is at hand/],
    ['no such user', () => ['nobody@127.0.0.1', 'x'], /the server refused the password/],
  ] as const)('by %s is told in words', async (_, given, words) => {
    const [who, password] = given();
    const address = `postgres://${who}:${server.port}/postgres`;
    const fault = await faultOf(openStore(storeAt(address, password)));
    expect(fault.message).toMatch(words);
    expect(fault.message).not.toContain(server.password);
  });

  it('for want of the database, or of the server, is told in words', async () => {
    const lacking = `postgres://postgres@127.0.0.1:${server.port}/nowhere`;
    expect((await faultOf(openStore(storeAt(lacking)))).message).toBe(
      `${lacking}: the server has no such database; let its owner make it (3D000)`,
    );
    const silent = 'postgres://postgres@127.0.0.1:1/nowhere';
    expect((await faultOf(openStore(storeAt(silent)))).message).toBe(
      `${silent}: no server answers there; look whether it runs, and at host and port (ECONNREFUSED)`,
    );
  });

  it('to a user without rights is told, and a reader may read', async () => {
    const address = await newDatabase();
    const database = `store_${made}`;
    await writeNight(await opened(storeAt(address)), eachNight(0));
    await server.sql(
      `create role reader_${made} login password 'r'; grant select on all tables in schema public to reader_${made};`,
      { database },
    );
    const reader = await opened(storeAt(address.replace('postgres@', `reader_${made}@`), 'r'));
    expect(await readAudits(reader, site)).toHaveLength(1);
    const error = await reader.all('delete from audit').catch((reason: unknown) => reason);
    expect(error).toMatchObject({ code: '42501' });
    // A schema that it may not use hides its tables; that is no word of there being none.
    await server.sql('revoke all on schema public from public', { database });
    const place = storeAt(address.replace('postgres@', `reader_${made}@`), 'r');
    const fault = await faultOf(openStore(place, { existing: true }));
    expect(fault.message).toBe(
      'the user may use no schema of this database; see the roles in README',
    );
  });

  it('trusts the named authority alone, and only for its name', async () => {
    const file = join(server.directory, 'authority.pem');
    writeFileSync(file, server.authority);
    const at = (host: string, more: string) =>
      storeAt(`postgres://postgres@${host}:${server.port}/postgres?${more}`);
    const good = await opened(at('localhost', `sslmode=verify-full&sslrootcert=${file}`));
    expect(await good.all('select ssl from pg_stat_ssl where pid = pg_backend_pid()')).toEqual([
      { ssl: true },
    ]);
    await opened(at('localhost', 'sslmode=require'));
    await opened(at('127.0.0.1', `sslmode=verify-ca&sslrootcert=${file}`));
    const unknown = await faultOf(openStore(at('localhost', 'sslmode=verify-full')));
    expect(unknown.message).toMatch(
      /the certificate of the server is not trusted; name its authority/,
    );
    const other = await faultOf(
      openStore(at('127.0.0.1', `sslmode=verify-full&sslrootcert=${file}`)),
    );
    expect(other.message).toMatch(/the certificate of the server is for another name/);
  });
});
