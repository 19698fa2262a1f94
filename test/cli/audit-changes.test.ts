import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import { parseJson } from '../../src/facts/json.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readAudits } from '../../src/history/read-timeline.ts';
import { takeRunLock } from '../../src/history/run-lock.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { ownFolder } from '../history/store.ts';
import { fakeRun, host, office } from './fake-io.ts';

const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const small = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const away = { 'plot-1': host('en7', 9000) };
const site = 'Saltmarsh survey office';

type Nodes = Readonly<Record<string, NodeReading>>;
interface Told {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Audits the office on a day of November with `--changes`, on a store of this test. */
async function auditOn(
  store: string,
  day: number,
  nodes: Nodes,
  { argv = [], files = office }: { argv?: readonly string[]; files?: typeof office } = {},
): Promise<Told> {
  const now = () => new Date(Date.UTC(2026, 10, day, 2));
  const fake = fakeRun({ files, nodes, io: { now } });
  const status = await run(['audit', '--changes', '--store', store, ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr() };
}

const newStore = () => join(ownFolder(), 'history.sqlite');

async function nightsKept(store: string): Promise<number> {
  const database = await openStore(store, { existing: true });
  const audits = await readAudits(database, site);
  await database.close();
  return audits.length;
}

describe('audit --changes', () => {
  it('says in its first line that it begins, and counts nothing as new', async () => {
    const store = newStore();
    const told = await auditOn(store, 24, small);
    expect(told).toEqual({
      status: 0,
      stdout: `Saltmarsh survey office: first audit in this history; 1 finding stands, see
hopgauge audit. From now on only what moves is told

1 judged: 0 met, 1 broken, 0 undetermined; 2 nodes read 2026-11-24 02:00 UTC
`,
      stderr: '',
    });
    expect(await nightsKept(store)).toBe(1);
  });

  it('writes nothing on either output, and ends with 0, while nothing moves', async () => {
    const store = newStore();
    await auditOn(store, 24, small);
    expect(await auditOn(store, 25, small)).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(await nightsKept(store)).toBe(2);
  });

  it('tells what is new, with what moved, once', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const told = await auditOn(store, 25, small);
    expect(told.status).toBe(1);
    expect(told.stdout).toBe(`Saltmarsh survey office since 2026-11-24 02:00 UTC

New
  error: plotting: carries at most 1500 of 9000 bytes
    seen  vault:eth4 MTU 1500 bytes (ip link mtu); declared MTU 9000 bytes
          (hopgauge.yaml:9)
    do    raise vault:eth4

Moved
  vault:eth4: MTU 9000 bytes, now 1500 bytes

1 judged: 0 met, 1 broken, 0 undetermined; 2 nodes read 2026-11-25 02:00 UTC
`);
    expect(await auditOn(store, 26, small)).toEqual({ status: 0, stdout: '', stderr: '' });
  });

  it('tells what cleared, and since when it was there', async () => {
    const store = newStore();
    await auditOn(store, 23, small);
    const told = await auditOn(store, 25, healthy);
    expect(told.status).toBe(0);
    expect(told.stdout).toContain(`Cleared
  plotting: carries at most 1500 of 9000 bytes; there since 2026-11-23 02:00 UTC
`);
  });

  it('tells that a node is not read, and neither clears nor repeats what it had', async () => {
    const store = newStore();
    await auditOn(store, 23, small);
    const gone = await auditOn(store, 24, away);
    expect([gone.status, gone.stdout]).toEqual([0, '']);
    const back = await auditOn(store, 25, small);
    expect([back.status, back.stdout]).toEqual([0, '']);
    expect((await auditOn(store, 26, healthy)).stdout).toContain('there since 2026-11-23');
  });

  it('tells what could not be judged before and is broken now as worse', async () => {
    const store = newStore();
    await auditOn(store, 24, away);
    const told = await auditOn(store, 25, small);
    expect(told.status).toBe(1);
    expect(told.stdout).toContain('\nWorse\n  error: plotting: carries at most 1500');
  });

  it('2 on the first night too, where nothing was read that could be judged', async () => {
    const silent = await auditOn(
      newStore(),
      24,
      {},
      {
        files: {
          ...office,
          'own.yaml': office['own.yaml'].replace('has(path', 'path.id == "x" && has(path'),
        },
      },
    );
    expect(silent.status).toBe(2);
    expect(silent.stdout).toContain('nothing was judged; 0 of 2 nodes read');
  });

  it('prints the whole report with --all, and keeps the night all the same', async () => {
    const store = newStore();
    await auditOn(store, 24, small);
    const told = await auditOn(store, 25, small, { argv: ['--all'] });
    expect(told.status).toBe(0);
    expect(told.stdout).toContain('raise vault:eth4');
    expect(await nightsKept(store)).toBe(2);
  });

  it('writes JSON with the status that it ends with', async () => {
    const store = newStore();
    await auditOn(store, 24, small);
    const told = await auditOn(store, 25, small, { argv: ['--format', 'json'] });
    const report = reportSchema.parse(parseJson(told.stdout));
    expect([told.status, report.exitStatus, report.findings.length]).toEqual([0, 0, 1]);
  });

  it('hides names with --redact in what moved, too', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const told = await auditOn(store, 25, small, { argv: ['--redact'] });
    expect(told.stdout).toMatch(/node-[0-9a-f]{8}:eth4: MTU 9000 bytes, now 1500 bytes/);
    expect(told.stdout).not.toMatch(/vault|plot-1|plotting|Saltmarsh/);
  });

  it('tells the night again that could not be told, and loses none', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const failed = await auditOn(store, 25, small, { argv: ['--out', '/nowhere/report.txt'] });
    expect(failed.status).toBe(73);
    expect(await nightsKept(store)).toBe(1);
    expect((await auditOn(store, 26, small)).stdout).toContain('since 2026-11-24');
  });

  it('goes on where the clock jumps back, and says the time of the audit before', async () => {
    const store = newStore();
    await auditOn(store, 28, healthy);
    const back = await auditOn(store, 20, small);
    expect(back.stdout).toContain('Saltmarsh survey office since 2026-11-28 02:00 UTC');
    expect(back.stdout).toContain('vault:eth4: MTU 9000 bytes, now 1500 bytes');
    const later = await auditOn(store, 21, healthy);
    expect(later.stdout).toContain('Saltmarsh survey office since 2026-11-20 02:00 UTC');
    expect(later.stdout).toContain('there since 2026-11-20');
    expect(await nightsKept(store)).toBe(3);
  });

  it('lets nobody else read the store', async () => {
    const store = join(ownFolder(), 'a', 'b', 'history.sqlite');
    await auditOn(store, 24, healthy);
    const modes = [store, `${store}.lock`, join(store, '..')].map(
      (path) => statSync(path).mode & 0o777,
    );
    expect(modes).toEqual([0o600, 0o600, 0o700]);
  });
});

describe('audit --changes that cannot be', () => {
  it.each<[string, readonly string[], string]>([
    ['--all without --changes', ['--all'], '--all has no use without --changes; add it\n'],
    [
      '--store without --changes',
      ['--store', 'x.sqlite'],
      '--store has no use without --changes; add it\n',
    ],
    [
      'a saved survey',
      ['--changes', '--survey', 'tuesday.json'],
      '--changes keeps what was read tonight, and a saved survey was not: leave one of the two out\n',
    ],
  ])('64: %s', async (_, argv, stderr) => {
    const fake = fakeRun({ files: office, nodes: healthy });
    expect(await run(['audit', ...argv], fake.io)).toBe(64);
    expect([fake.stdout(), fake.stderr()]).toEqual(['', stderr]);
    expect(fake.asked).toEqual([]);
  });

  it('75 while another audit holds the store; nothing is read or kept', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const lock = takeRunLock(store);
    const fake = fakeRun({ files: office, nodes: small });
    expect(await run(['audit', '--changes', '--store', store], fake.io)).toBe(75);
    expect(fake.stderr()).toBe(
      `${store}: another audit is running on it; wait for its end, or see that it is not stuck\n`,
    );
    expect(fake.asked).toEqual([]);
    lock.release();
    expect((await auditOn(store, 25, small)).status).toBe(1);
  });

  it('75 for one of two at once, and the other keeps its night', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    let second: Promise<Told> | undefined;
    const read: Io['read'] = async ({ name }) => {
      // The second begins while the first reads, and ends before the first does.
      second ??= auditOn(store, 25, small);
      await second;
      return { ok: true, reading: small[name as keyof typeof small] };
    };
    const first = fakeRun({ files: office, io: { read } });
    expect(await run(['audit', '--changes', '--store', store], first.io)).toBe(1);
    expect(await second).toEqual({
      status: 75,
      stdout: '',
      stderr: `${store}: another audit is running on it; wait for its end, or see that it is not stuck\n`,
    });
    expect(await nightsKept(store)).toBe(2);
  });

  it('73 for a store of a later program, which is left as it is', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const database = await openStore(store);
    await database.all('update store_version set version = 99');
    await database.close();
    const before = readFileSync(store);
    const told = await auditOn(store, 25, small);
    expect(told).toEqual({
      status: 73,
      stdout: '',
      stderr: `${store}: written by a later hopgauge (version 99 of the store, this one knows 3); use that one, or name another file with --store\n`,
    });
    expect(readFileSync(store).equals(before)).toBe(true);
  });

  it('73 for a file that is no store, which is left as it is', async () => {
    const store = newStore();
    writeFileSync(store, 'minutes of the harbour meeting\n'.repeat(40));
    const told = await auditOn(store, 25, small);
    expect([told.status, told.stdout]).toEqual([73, '']);
    expect(told.stderr).toBe(
      `${store}: it is no store of hopgauge; name another file with --store (SQLITE_NOTADB)\n`,
    );
    expect(readFileSync(store, 'utf8')).toMatch(/^minutes of the harbour/);
  });

  it('73 for a damaged store, with what to do', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const bytes = readFileSync(store);
    // All pages but the first, which says that it is a database.
    bytes.fill(0xa5, 4096);
    writeFileSync(store, bytes);
    const told = await auditOn(store, 25, small);
    expect([told.status, told.stdout]).toEqual([73, '']);
    expect(told.stderr).toBe(
      `${store}: it is damaged; put it aside, and begin a new one or restore a copy (SQLITE_CORRUPT)\n`,
    );
  });

  it('73 for a state that is not what was written', async () => {
    const store = newStore();
    await auditOn(store, 24, healthy);
    const database = await openStore(store);
    await database.all("update node_state set body = x'00ff' where node = 'vault'");
    await database.close();
    const told = await auditOn(store, 25, small);
    expect([told.status, told.stderr]).toEqual([
      73,
      `${store}: the store is damaged (the state of vault); put it aside, and begin a new one or restore a copy\n`,
    ]);
    // The lock is free again.
    takeRunLock(store).release();
  });

  it.each([
    [
      'below a file',
      ['file', 'history.sqlite'],
      'it cannot be opened; look at the folder and its rights (SQLITE_CANTOPEN)',
    ],
    [
      'two below a file',
      ['file', 'a', 'history.sqlite'],
      'its folder cannot be used (ENOTDIR); name another file with --store',
    ],
  ])('73 where its folder is none: %s', async (_, parts, words) => {
    const folder = ownFolder();
    writeFileSync(join(folder, 'file'), '');
    const store = join(folder, ...parts);
    const told = await auditOn(store, 25, small);
    expect([told.status, told.stderr]).toEqual([73, `${store}: ${words}\n`]);
  });

  it('73 where the store is a folder', async () => {
    const store = newStore();
    mkdirSync(store);
    const told = await auditOn(store, 25, small);
    expect([told.status, told.stderr]).toEqual([
      73,
      `${store}: it cannot be opened; look at the folder and its rights (SQLITE_CANTOPEN)\n`,
    ]);
  });
});
