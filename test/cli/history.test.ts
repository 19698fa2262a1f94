import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import { openStore } from '../../src/history/open-store.ts';
import { ownFolder } from '../history/store.ts';
import { fakeRun, host, office } from './fake-io.ts';

const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const small = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const away = { 'plot-1': host('en7', 9000) };

/** A store with these nights, from the 24th of November on. */
async function storeOf(
  ...nights: readonly Readonly<Record<string, NodeReading>>[]
): Promise<string> {
  const store = join(ownFolder(), 'history.sqlite');
  for (const [at, nodes] of nights.entries()) {
    const now = () => new Date(Date.UTC(2026, 10, 24 + at, 2));
    const fake = fakeRun({ files: office, nodes, io: { now } });
    await run(['audit', '--changes', '--store', store], fake.io);
  }
  return store;
}

async function historyOf(store: string, argv: readonly string[], files: object = office) {
  const now = () => new Date('2026-11-26T08:00:00.000Z');
  const fake = fakeRun({ files: { ...files }, io: { now } });
  const status = await run(['history', ...argv, '--store', store], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr() };
}

describe('history', () => {
  it('tells the audits of the site, and all that moved, the latest last', async () => {
    const store = await storeOf(healthy, small, healthy);
    expect(await historyOf(store, [])).toEqual({
      status: 0,
      stdout: `Saltmarsh survey office: first seen 2026-11-24 02:00 UTC
3 audits:
  2026-11-24 02:00 UTC  1 met, 0 broken, 0 undetermined; 2 nodes read; 0 told
  2026-11-25 02:00 UTC  0 met, 1 broken, 0 undetermined; 2 nodes read; 1 told
  2026-11-26 02:00 UTC  1 met, 0 broken, 0 undetermined; 2 nodes read; 1 told

  2026-11-25 02:00 UTC  vault:eth4: MTU 9000 bytes, now 1500 bytes
  2026-11-25 02:00 UTC  plotting: error: carries at most 1500 of 9000 bytes
  2026-11-26 02:00 UTC  vault:eth4: MTU 1500 bytes, now 9000 bytes
  2026-11-26 02:00 UTC  plotting: cleared, there since 2026-11-25 02:00 UTC:
                        carries at most 1500 of 9000 bytes
`,
      stderr: '',
    });
  });

  it.each<[string, readonly string[], readonly string[]]>([
    [
      'a port',
      ['vault:eth4'],
      [
        'vault:eth4: first seen 2026-11-24 02:00 UTC',
        '  2026-11-25 02:00 UTC  MTU 9000 bytes, now 1500 bytes',
        '  2026-11-26 02:00 UTC  MTU 1500 bytes, now 9000 bytes',
      ],
    ],
    [
      'a node, with its ports',
      ['vault', '--since', '2026-11-26'],
      [
        'vault: first seen 2026-11-24 02:00 UTC',
        '  2026-11-26 02:00 UTC  vault:eth4: MTU 1500 bytes, now 9000 bytes',
      ],
    ],
    [
      'a path',
      ['plotting', '--since', '29h'],
      [
        'plotting',
        '  2026-11-26 02:00 UTC  cleared, there since 2026-11-25 02:00 UTC: carries at',
        '                        most 1500 of 9000 bytes',
      ],
    ],
    [
      'a link, which has no findings',
      ['plot-1:en7 - vault:eth4'],
      ['plot-1:en7 - vault:eth4: nothing was ever told of it'],
    ],
    ['a segment, which has no findings', ['storage'], ['storage: nothing was ever told of it']],
    [
      'a node on which nothing moved',
      ['plot-1'],
      ['plot-1: first seen 2026-11-24 02:00 UTC', 'nothing moved'],
    ],
  ])('tells of %s', async (_, argv, lines) => {
    const store = await storeOf(healthy, small, healthy);
    const told = await historyOf(store, argv);
    expect(told).toEqual({ status: 0, stdout: `${lines.join('\n')}\n`, stderr: '' });
  });

  it('needs no intent where the store has one site', async () => {
    const store = await storeOf(healthy, small);
    const told = await historyOf(store, ['vault:eth4'], {});
    expect(told.stdout).toContain('MTU 9000 bytes, now 1500 bytes');
    const named = await historyOf(store, ['--site', 'the depot'], {});
    expect([named.status, named.stderr]).toEqual([
      64,
      "the history knows no site 'the depot'; it has Saltmarsh survey office\n",
    ]);
  });

  it('64 for an address of no server, which is not shown and not taken for a file', async () => {
    const told = await historyOf('postgress://auditor:s3cret@db/h', []);
    expect([told.status, told.stdout, told.stderr]).toEqual([
      64,
      '',
      'the address of the store cannot be read; write postgres://USER@HOST:5432/DATABASE\n',
    ]);
  });

  it('64 for a target that neither the history nor the intent has', async () => {
    const store = await storeOf(healthy);
    const told = await historyOf(store, ['nobody-at-all']);
    expect([told.status, told.stdout, told.stderr]).toEqual([
      64,
      '',
      "the history of Saltmarsh survey office has nothing of 'nobody-at-all'; name a node, node:port, link, path, segment or the id of a finding\n",
    ]);
  });

  it.each([
    ['vualt:eth4', 'vault:eth4'],
    ['ploting', 'plotting'],
  ])('64 for %s, with the name that is near', async (target, near) => {
    const told = await historyOf(await storeOf(healthy), [target]);
    expect([told.status, told.stderr]).toEqual([
      64,
      `the history of Saltmarsh survey office has nothing of '${target}'; write '${near}'\n`,
    ]);
  });

  it('writes JSON, the same bytes each time, and JSON Lines', async () => {
    const store = await storeOf(healthy, small);
    const json = await historyOf(store, ['vault:eth4', '--format', 'json']);
    expect(JSON.parse(json.stdout)).toEqual({
      history: 1,
      site: 'Saltmarsh survey office',
      target: 'vault:eth4',
      firstSeen: '2026-11-24T02:00:00.000Z',
      truncated: false,
      audits: [],
      events: [
        {
          kind: 'changed',
          at: '2026-11-25T02:00:00.000Z',
          node: 'vault',
          port: 'eth4',
          fact: 'mtuBytes',
          was: 9000,
          is: 1500,
          seenAt: '2026-11-24T02:00:00.000Z',
        },
      ],
    });
    expect((await historyOf(store, ['vault:eth4', '--format', 'json'])).stdout).toBe(json.stdout);
    const lines = (await historyOf(store, ['--format', 'jsonl'])).stdout.trimEnd().split('\n');
    const kinds = lines.map((line) => JSON.parse(line)).map(({ kind, at }) => `${kind} ${at}`);
    expect(kinds).toEqual([
      'audit 2026-11-24T02:00:00.000Z',
      'audit 2026-11-25T02:00:00.000Z',
      'changed 2026-11-25T02:00:00.000Z',
      'found 2026-11-25T02:00:00.000Z',
    ]);
  });

  it.each(['text', 'json', 'jsonl'])('--redact names nothing of the site as %s', async (form) => {
    const store = await storeOf(healthy, small, away, healthy);
    const telling = ['saltmarsh', 'plot-1', 'vault', 'plotting', '1500 of 9000'];
    const open = (await historyOf(store, ['--format', form])).stdout.toLowerCase();
    // What is not said openly, hiding proves nothing of; nothing happened to plot-1.
    expect(telling.filter((each) => !open.includes(each))).toEqual(['plot-1']);
    for (const files of [office, {}]) {
      const told = await historyOf(store, ['--redact', '--format', form], files);
      expect(told.status).toBe(0);
      expect(telling.filter((each) => told.stdout.toLowerCase().includes(each))).toEqual([]);
      expect(told.stdout).toMatch(/node-[0-9a-f]{8}/);
      expect(told.stdout).toContain('path-clearance');
    }
  });

  it.each([
    ['one is young enough', '31h', 0, 'last complete audit 2026-11-25 02:00 UTC\n'],
    [
      'the last one is too old',
      '26h',
      1,
      'last complete audit 2026-11-25 02:00 UTC, wanted within 26h; the last one, 2026-11-26 02:00 UTC, read 1 of 2 nodes; look at the timer and at its log\n',
    ],
  ] as const)('--complete-within: %s', async (_, age, status, stdout) => {
    const store = await storeOf(healthy, healthy, away);
    const told = await historyOf(store, ['--complete-within', age]);
    expect([told.status, told.stdout]).toEqual([status, stdout]);
  });

  it('--complete-within: none was ever complete', async () => {
    const told = await historyOf(await storeOf(away), ['--complete-within', '26h']);
    expect([told.status, told.stdout]).toEqual([
      1,
      'no audit was ever complete, wanted within 26h; the last one, 2026-11-24 02:00 UTC, read 1 of 2 nodes; look at the timer and at its log\n',
    ]);
  });

  it('--prune takes out what is old, and says how much', async () => {
    const store = await storeOf(healthy, small, healthy);
    const told = await historyOf(store, ['--prune', '1d']);
    expect([told.status, told.stdout]).toEqual([
      0,
      'took out what is before 2026-11-25 08:00 UTC: audits 2, changes 1\n',
    ]);
    expect((await historyOf(store, ['--check'])).stdout).toBe(`${store}: sound\n`);
  });

  it('--check: 1 for rows that belong to nothing', async () => {
    const store = await storeOf(healthy, small);
    const database = await openStore(store);
    await database.all('pragma foreign_keys = off');
    await database.all('delete from fact');
    await database.close();
    const told = await historyOf(store, ['--check']);
    expect([told.status, told.stdout]).toEqual([
      1,
      `${store}: damaged\nrows that belong to nothing: 1\n`,
    ]);
  });

  it.each<[string, readonly string[], string]>([
    [
      'an age without a unit',
      ['--prune', '30'],
      "--prune: '30' is no age; write 90s, 30m, 26h or 14d\n",
    ],
    [
      'no date and no age',
      ['--since', 'tuesday'],
      "--since: 'tuesday' is no age; write 90s, 30m, 26h or 14d, or a date as 2026-11-01\n",
    ],
    [
      'a date that is none',
      ['--since', '2026-13-40'],
      "--since: '2026-13-40' is no age; write 90s, 30m, 26h or 14d, or a date as 2026-11-01\n",
    ],
  ])('64: %s', async (_, argv, stderr) => {
    const told = await historyOf(await storeOf(healthy), argv);
    expect([told.status, told.stdout, told.stderr]).toEqual([64, '', stderr]);
  });

  it('73 where there is no history yet, with what begins one; none is made', async () => {
    const store = join(ownFolder(), 'history.sqlite');
    for (const _ of [1, 2]) {
      const told = await historyOf(store, []);
      expect([told.status, told.stderr]).toEqual([
        73,
        `${store}: there is no history yet; hopgauge audit --changes begins one\n`,
      ]);
    }
  });

  it('73 for a value that is not what was written', async () => {
    const store = await storeOf(healthy, small);
    const database = await openStore(store);
    await database.all("update change set was = '{'");
    await database.close();
    const told = await historyOf(store, []);
    expect([told.status, told.stderr]).toEqual([
      73,
      `${store}: the store is damaged (was); put it aside, and begin a new one or restore a copy\n`,
    ]);
  });
});
