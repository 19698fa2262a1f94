import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import type { Proofs } from '../../src/facts/proof.ts';
import type { Database } from '../../src/history/database.ts';
import { readProofs } from '../../src/history/kept-proofs.ts';
import { openServer } from '../../src/history/open-server.ts';
import { openStore } from '../../src/history/open-store.ts';
import { serverPlace } from '../../src/history/server-place.ts';
import { addProofs } from '../../src/history/write-night.ts';
import { type JsonReport, reportSchema } from '../../src/report/report-schema.ts';
import { queueName } from '../../src/share/queue-names.ts';
import { workQueue } from '../../src/share/work-queue.ts';
import { undeterminedIn } from './harness/audit.ts';
import { projectRoot } from './harness/cli.ts';
import {
  compileProgram,
  folderIn,
  type Hosts,
  hopgaugeIn,
  intentOf,
  type Place,
  type Running,
  startCollector,
  startHopgauge,
  startHosts,
} from './harness/collectors.ts';
import { type Ran, until } from './harness/command.ts';
import { type PgServer, startPostgres, stopPostgres } from './harness/postgres.ts';

// Audits whose nodes are read by collectors, over a real PostgreSQL. The hosts are simulated, so
// that each can tell how many were logged in to it at one time.

let server: PgServer;
let program = '';
beforeAll(async () => {
  server = await startPostgres();
  program = await compileProgram(await folderIn(server.directory, 'program'));
});
afterAll(() => stopPostgres(server));

let made = 0;

interface Site {
  readonly name: string;
  readonly store: string;
  readonly place: Place;
  readonly hosts: Hosts;
  readonly intent: string;
}

/** A database and a site of its own for one test. */
async function newSite(
  count: number,
  {
    delayMs = 150,
    reachOf,
  }: { delayMs?: number; reachOf?: (name: string) => string | undefined } = {},
): Promise<Site> {
  made += 1;
  await server.sql(`create database work_${made}`);
  const cwd = await folderIn(server.directory, `site-${made}`);
  const names = Array.from({ length: count }, (_, at) => `host-${String(at + 1).padStart(2, '0')}`);
  const hosts = await startHosts(names, { home: join(cwd, 'home'), delayMs });
  onTestFinished(() => hosts.stop());
  const name = `depot ${made}`;
  const intent = join(cwd, 'depot.yaml');
  writeFileSync(intent, intentOf(name, hosts, reachOf));
  return {
    name,
    store: `postgres://postgres@127.0.0.1:${server.port}/work_${made}`,
    place: { program, home: hosts.home, cwd, password: server.password },
    hosts,
    intent,
  };
}

async function collectorsOf(
  site: Site,
  count: number,
  more: readonly string[] = [],
): Promise<Running[]> {
  const argv = ['--store', site.store, '--at-once', '4', ...more];
  const all = await Promise.all(
    Array.from({ length: count }, () => startCollector(site.place, argv)),
  );
  onTestFinished(async () => {
    await Promise.all(all.map((each) => each.end('SIGKILL')));
  });
  return all;
}

const collect = (site: Site, more: readonly string[] = []) =>
  hopgaugeIn(site.place, [
    'audit',
    site.intent,
    '--store',
    site.store,
    '--collect',
    '--format',
    'json',
    ...more,
  ]);

interface Told {
  readonly unread: readonly string[];
  readonly read: number;
}

/** Which nodes the audit's own survey has, by whether they were read. */
function toldBy(ran: Ran): Told {
  const report = parseJson(ran.stdout) as {
    nodes: readonly { name: string; readings: readonly { trouble?: { seen: string } }[] }[];
  };
  const unread = report.nodes.flatMap(({ name: node, readings }) => {
    const trouble = readings.find((each) => each.trouble !== undefined)?.trouble;
    return trouble === undefined ? [] : [`${node}: ${trouble.seen}`];
  });
  return { unread, read: report.nodes.length - unread.length };
}

/** Logins at all hosts of a site: how many, and the most at one host at one time. */
function logins({ hosts }: Site): { readonly all: number; readonly atOnce: number } {
  const each = [...hosts.hosts.values()];
  return {
    all: each.reduce((sum, host) => sum + host.sessions(), 0),
    atOnce: Math.max(...each.map((host) => host.sessionsAtOnce())),
  };
}

/** The store at an address, as a command opens it. */
async function storeOf(address: string): Promise<Database> {
  const askPassword = async () => server.password;
  const store = await openStore({ place: serverPlace(address, {}, 'nobody'), askPassword });
  onTestFinished(() => store.close());
  return store;
}

const reportOf = (ran: Ran): JsonReport => reportSchema.parse(parseJson(ran.stdout));

/** A fit of now between the ends of the path, both ways. */
function fitsOfToday(): Proofs {
  const at = new Date().toISOString();
  const way = (from: string, to: string) => ({
    ...{ from, to, toAddress: '198.18.20.11', at },
    provenMtuBytes: 9000,
  });
  return { fits: [way('host-01', 'host-02'), way('host-02', 'host-01')], transfers: [] };
}

const left = (site: Site) =>
  server.sql('select count(*) from hopgauge_queue.job', {
    database: site.store.split('/').at(-1) ?? '',
  });

async function untilLogins(site: Site, count: number): Promise<void> {
  await until('logins', async () => logins(site).all >= count, { limitMs: 60_000, everyMs: 20 });
}

describe('collectors', () => {
  it('of which there are four share a site: each node is read once, and nothing is left', async () => {
    const site = await newSite(24);
    const collectors = await collectorsOf(site, 4, ['--site', site.name]);
    const ran = await collect(site, ['--changes', '--all']);
    expect(ran.stderr).toBe('');
    expect(ran.code).toBe(0);
    expect(toldBy(ran)).toEqual({ unread: [], read: 24 });
    expect(logins(site)).toEqual({ all: 24, atOnce: 1 });
    expect(collectors.filter((each) => each.said().includes('host-')).length).toBeGreaterThan(1);
    expect(await left(site)).toBe('0\n');
    // And again, with what the first night has kept.
    const again = await collect(site, ['--changes', '--all']);
    expect(again.code).toBe(0);
    expect(logins(site)).toEqual({ all: 48, atOnce: 1 });
  });

  it('one of three that is killed loses nothing, and one that is stopped gives back', async () => {
    const site = await newSite(24, { delayMs: 700 });
    const [one, two] = await collectorsOf(site, 3, ['--site', site.name]);
    const audit = collect(site);
    await untilLogins(site, 9);
    await one?.end('SIGKILL');
    expect(await two?.end('SIGTERM')).toBe(0);
    const ran = await audit;
    expect(ran.stderr).toBe('');
    expect(toldBy(ran)).toEqual({ unread: [], read: 24 });
    const { all, atOnce } = logins(site);
    expect(atOnce).toBe(1);
    // What the two had in hand was read again: at most four each.
    expect(all).toBeGreaterThan(24);
    expect(all).toBeLessThanOrEqual(24 + 8);
    expect(await left(site)).toBe('0\n');
  });

  it('whose connections are cut, all of them, go on; so does the audit', async () => {
    const site = await newSite(16, { delayMs: 500 });
    await collectorsOf(site, 2, ['--site', site.name]);
    const audit = collect(site, ['--changes', '--all']);
    await untilLogins(site, 5);
    await server.sql(
      `select count(pg_terminate_backend(pid)) from pg_stat_activity where datname = '${site.store.split('/').at(-1)}'`,
    );
    const ran = await audit;
    expect(ran.stderr).toBe('');
    expect(toldBy(ran)).toEqual({ unread: [], read: 16 });
    expect(logins(site).atOnce).toBe(1);
  });

  it('outlive a server that fails and comes again; so does the audit', async () => {
    const site = await newSite(16, { delayMs: 500 });
    await collectorsOf(site, 2);
    const audit = collect(site, ['--changes', '--all']);
    await untilLogins(site, 5);
    await server.stop('immediate');
    await server.start();
    const ran = await audit;
    expect(ran.stderr).toBe('');
    expect(toldBy(ran)).toEqual({ unread: [], read: 16 });
    expect(logins(site).atOnce).toBe(1);
    expect(await left(site)).toBe('0\n');
  });

  it('are started before the server, and so is the audit', async () => {
    const site = await newSite(2);
    await server.stop('fast');
    const collector = startHopgauge(site.place, ['collector', '--store', site.store]);
    onTestFinished(async () => void (await collector.end('SIGKILL')));
    await until('a word', async () => collector.said().includes('waiting for it'), {
      limitMs: 60_000,
    });
    const audit = collect(site);
    await server.start();
    const ran = await audit;
    expect(toldBy(ran)).toEqual({ unread: [], read: 2 });
    expect(collector.said()).toContain('no server answers there');
  });

  it('say in the report that what a node lacks is lacking there', async () => {
    const site = await newSite(2);
    const home = await folderIn(site.place.cwd, 'no keys');
    const [collector] = await collectorsOf({ ...site, place: { ...site.place, home } }, 1);
    const ran = await collect(site);
    expect(toldBy(ran).read).toBe(0);
    expect(ran.stdout).toContain('"remedy": "where its collector runs: ');
    expect(collector?.said()).toContain(`${site.name}: host-01 not read: `);
  });

  it('of several sites are missed at once, each by its name', async () => {
    const [one, two] = [await newSite(2), await newSite(2)];
    const argv = ['audit', one.intent, two.intent, '--store', one.store, '--collect'];
    const audit = startHopgauge(one.place, argv);
    onTestFinished(async () => void (await audit.end('SIGKILL')));
    const missed = ({ name }: Site) =>
      audit.said().includes(`${name}: no collector has taken a node yet`);
    await until('both words', async () => missed(one) && missed(two), { limitMs: 60_000 });
    expect(audit.ended()).toBe(false);
  });

  it('take what falls to them by site and reach, and what nobody takes is told', async () => {
    const reachOf = (name: string) => (name > 'host-03' ? 'yard' : undefined);
    const site = await newSite(6, { reachOf });
    await collectorsOf(site, 1, ['--site', site.name, '--reach', 'yard']);
    await collectorsOf(site, 1, ['--site', 'another site']);
    const ran = await collect(site, ['--deadline', '26s']);
    // One whose site nobody audits is told which are audited.
    const [stray] = await collectorsOf(site, 1, ['--site', 'another site']);
    await until('what is asked for', async () => stray?.said().includes('asked for what') === true);
    expect(stray?.said()).toContain(
      `no audit has asked for what it takes yet; audits have asked for '${site.name}', '${site.name}' reach 'yard'`,
    );
    const { read, unread } = toldBy(ran);
    // While it still waits, and of nothing that was taken.
    expect(ran.stderr).toBe(
      `${site.name}: no collector has taken a node yet; look whether one runs that these fall to, by --site and --reach; waiting for it, 26s in all\n`,
    );
    expect(read).toBe(3);
    expect(unread).toEqual(
      ['host-01', 'host-02', 'host-03'].map(
        (node) => `${node}: time over: no collector of ${site.name} took it within 26s`,
      ),
    );
    expect(await left(site)).toBe('0\n');
  });

  it('have their queue on a new server, however many audits begin there at once', async () => {
    const site = await newSite(2);
    const place = serverPlace(site.store, {}, 'nobody');
    const opened = ['a', 'b', 'c', 'd'].map(async (name) => {
      const database = await openServer(place, async () => server.password);
      onTestFinished(() => database.close());
      const queue = await workQueue(database);
      await queue.prepare([queueName({ site: name, reach: '' })]);
      return queue.queues();
    });
    const last = (await Promise.all(opened)).toSorted((a, b) => b.length - a.length)[0];
    expect(last?.length).toBeGreaterThanOrEqual(4);
  });

  it('are asked by one audit of a site at a time', async () => {
    const site = await newSite(2);
    const other = await openServer(
      serverPlace(site.store, {}, 'nobody'),
      async () => server.password,
    );
    onTestFinished(() => other.close());
    expect(await other.shared.tryLock(`collect ${site.name}`)).toBe(true);
    const second = await collect(site);
    expect(second.code).toBe(75);
    expect(second.stderr).toContain(`another audit has ${site.name} collected now`);
    expect(logins(site).all).toBe(0);
  });

  it('are not asked for an audit that was killed', async () => {
    const site = await newSite(8);
    const argv = ['audit', site.intent, '--store', site.store, '--collect'];
    const killed = startHopgauge(site.place, argv);
    await until('nodes in the queue', async () => (await left(site).catch(() => '')) === '8\n', {
      limitMs: 60_000,
    });
    await killed.end('SIGKILL');
    await collectorsOf(site, 2, ['--site', site.name]);
    const ran = await collect(site);
    expect(toldBy(ran)).toEqual({ unread: [], read: 8 });
    // Some of the first may have been read before the second audit took them away.
    expect(logins(site).atOnce).toBe(1);
    expect(await left(site)).toBe('0\n');
  });

  it('with an intent of their own ask only what it declares', async () => {
    const site = await newSite(4);
    const own = join(site.place.cwd, 'own.yaml');
    const lines = intentOf(site.name, site.hosts).split('\n');
    writeFileSync(own, lines.filter((line) => !line.startsWith('  host-04')).join('\n'));
    await collectorsOf(site, 1, ['--intent', own]);
    const { read, unread } = toldBy(await collect(site));
    expect(read).toBe(3);
    expect(unread).toEqual([
      'host-04: the intent that its collector was given does not declare this node',
    ]);
    expect(logins(site).all).toBe(3);
  });

  it('run no nightly fit: the audit says so, until one that was kept counts', async () => {
    const site = await newSite(2);
    const asks = readFileSync(site.intent, 'utf8')
      .replace('over: storage }', 'over: storage, fit: nightly }')
      .replace('[essential]', '[proven]');
    writeFileSync(site.intent, asks);
    await collectorsOf(site, 1, ['--site', site.name]);
    const words = `path plotting: 'fit: nightly' is not run with --collect, since collectors only read; run hopgauge fit --path plotting --store ${site.store} where both ends can be reached, and audit with --changes, which takes what it kept\n`;
    const ran = await collect(site);
    expect([ran.code, ran.stderr]).toEqual([2, words]);
    expect(undeterminedIn(reportOf(ran))).toEqual([
      'proven-clearance plotting: host-01 to host-02',
      'proven-clearance plotting: host-02 to host-01',
    ]);
    expect(ran.stdout).toContain('never run; run hopgauge fit host-01 host-02');
    // Nothing but the readings has logged in.
    expect(logins(site).all).toBe(2);
    await addProofs(await storeOf(site.store), site.name, fitsOfToday());
    const again = await collect(site, ['--changes', '--all']);
    expect([again.code, again.stderr]).toEqual([0, '']);
    expect(undeterminedIn(reportOf(again))).toEqual([]);
    const shown = reportOf(again).paths[0]?.proofs ?? [];
    expect(shown.map(({ provenMtuBytes }) => provenMtuBytes)).toEqual([9000, 9000]);
  });
});

describe('times that the queue keeps', () => {
  // crontab(5): hours are 0 to 23.
  it('are refused where no clock has them', async () => {
    const site = await newSite(2);
    const ran = await collect(site, ['--cron', '0 99 * * *']);
    expect(ran.code).toBe(64);
    expect(ran.stderr).toMatch(/^--cron: '0 99 \* \* \*' is no time \(.*99.*\); write five fields/);
  });

  it('give each turn to one of two that wait, and to the other when the first is gone', async () => {
    const site = await newSite(2);
    const database = site.store.split('/').at(-1) ?? '';
    await collectorsOf(site, 1);
    const argv = ['audit', site.intent, '--store', site.store, '--collect', '--changes'];
    const two = [1, 2].map(() => startHopgauge(site.place, [...argv, '--cron', '0 2 * * *']));
    onTestFinished(async () => {
      await Promise.all(two.map((each) => each.end('SIGKILL')));
    });
    const audited = () =>
      two.reduce(
        (sum, each) => sum + (each.said().match(/audited, ended with 0/g) ?? []).length,
        0,
      );
    const limit = { limitMs: 60_000 };
    const times = () =>
      server.sql('select name, cron from hopgauge_queue.schedule', { database }).catch(() => '');
    await until('times in the queue', async () => (await times()) !== '', limit);
    await until('both wait', async () => two.every((each) => each.said().includes('waits')), limit);
    expect(await times()).toBe(`audit ["${site.name}"]|0 2 * * *\n`);
    // What the clock of the queue does at two o'clock.
    const turn = () =>
      server.sql(
        `insert into hopgauge_queue.job (name, policy) select name, policy from hopgauge_queue.queue where name like 'audit %'`,
        { database },
      );
    await turn();
    await until('one audit', async () => audited() === 1, limit);
    const [first] = two.filter((each) => each.said().includes('audited'));
    await first?.end('SIGTERM');
    await turn();
    await until('another audit', async () => audited() === 2, limit);
    expect(logins(site)).toEqual({ all: 4, atOnce: 1 });
    expect(await server.sql('select count(*) from audit', { database })).toBe('2\n');
  });
});

describe('the roles of README', () => {
  it('let a collector work, and see neither history nor other sites', async () => {
    const site = await newSite(3);
    const auditor = await rolesOf(site);
    const mine = { ...site, store: auditor };
    const [collector] = await collectorsOf(
      { ...site, store: auditor.replace('auditor_', 'depot_') },
      1,
      ['--site', site.name],
    );
    const ran = await collect(mine, ['--changes', '--all']);
    expect(ran.stderr).toBe('');
    expect(toldBy(ran)).toEqual({ unread: [], read: 3 });
    expect(collector?.said()).toContain('host-01');
    const login = { user: `depot_${made}`, database: `roles_${made}` };
    for (const table of ['audit', 'node_state', 'finding', 'latest_audit', 'proof', 'site'])
      await expect(server.sql(`select * from ${table}`, login)).rejects.toThrow(
        /permission denied|does not exist/,
      );
    await expect(server.sql('create table own (n int)', login)).rejects.toThrow();
    await server.sql(
      `insert into hopgauge_queue.queue (name) values ('survey ["another",""]');
        select hopgauge_queue.create_queue('survey ["yet another",""]', '{}');
        insert into hopgauge_queue.job (name) values ('survey ["yet another",""]');`,
      { user: `auditor_${made}`, database: `roles_${made}` },
    );
    expect(await server.sql('select count(*) from hopgauge_queue.job', login)).toBe('0\n');
  });

  it('let active tests keep what they show of their site, and see nothing else', async () => {
    const site = await newSite(2);
    const auditor = await rolesOf(site);
    const own = await storeOf(auditor);
    const fits = fitsOfToday();
    await addProofs(own, 'another', fits);
    const tests = await storeOf(auditor.replace(`auditor_${made}`, `depot_${made}_tests`));
    await addProofs(tests, site.name, fits);
    await addProofs(tests, site.name, fits);
    expect(await readProofs(own, { site: site.name, since: '' })).toEqual(fits);
    const later = { fits: fits.fits.map((fit) => ({ ...fit, at: tomorrow })), transfers: [] };
    await addProofs(tests, site.name, later);
    expect(await readProofs(own, { site: site.name, since: '' })).toEqual(later);
    expect(await tests.all('select name from site')).toEqual([{ name: site.name }]);
    expect(await readProofs(tests, { site: 'another', since: '' })).toEqual(noProofs);
    const refused = { code: '42501' };
    await expect(addProofs(tests, 'another', later)).rejects.toMatchObject(refused);
    await expect(addProofs(tests, 'a third', later)).rejects.toMatchObject(refused);
    for (const table of ['audit', 'node_state', 'finding', 'hopgauge_queue.job'])
      await expect(tests.all(`select 1 from ${table}`)).rejects.toMatchObject(refused);
    await expect(tests.all('delete from proof')).rejects.toMatchObject(refused);
    expect(await readProofs(own, { site: 'another', since: '' })).toEqual(fits);
  });
});

const noProofs: Proofs = { fits: [], transfers: [] };
const tomorrow = new Date(Date.now() + 86_400_000).toISOString();

/** Makes the roles of README and the tables; gives the store as the auditor names it. */
async function rolesOf(site: Site): Promise<string> {
  const sql = readmeSql()
    .replaceAll('hopgauge_auditor', `auditor_${made}`)
    .replaceAll('hopgauge_depot', `depot_${made}`)
    .replaceAll('the depot', site.name)
    .replaceAll(/\bhopgauge\b/g, `roles_${made}`);
  const [before = '', after = ''] = sql.split(/^-- then.*$/m);
  await server.sql(before);
  const auditor = `postgres://auditor_${made}@127.0.0.1:${server.port}/roles_${made}`;
  await server.sql(`alter role auditor_${made} password '${server.password}'`);
  for (const role of [`depot_${made}`, `depot_${made}_tests`])
    await server.sql(`alter role ${role} password '${server.password}'`);
  const prepared = await hopgaugeIn(site.place, ['collector', '--store', auditor, '--prepare']);
  expect(prepared.stderr).toBe('');
  await server.sql(after, { user: `auditor_${made}`, database: `roles_${made}` });
  return auditor;
}

/** The SQL that README gives to who makes the roles. */
function readmeSql(): string {
  const readme = readFileSync(join(projectRoot, 'README.md'), 'utf8');
  const [, sql = ''] = /```sql\n([^`]*create role hopgauge_auditor[^`]*)```/.exec(readme) ?? [];
  if (sql === '') throw new Error('README gives no SQL for roles');
  return sql;
}
