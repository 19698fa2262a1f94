import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import { openStore } from '../../src/history/open-store.ts';
import { readSites } from '../../src/history/read-timeline.ts';
import { newStorePath } from '../history/store.ts';
import { fakeRun, host, office, twoHosts } from './fake-io.ts';

const named = (site: string) => twoHosts.replace('Saltmarsh survey office', site);
const files = {
  ...office,
  'depot.yaml': named('the depot'),
  'pier.yaml': named('the pier'),
  'again.yaml': named('the depot'),
  'wrong.yaml': 'intent: 1\nnods: {}\n',
};
const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const small = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };

const trouble = { kind: 'time-over', seen: 'interrupted', remedy: 'run it again' } as const;

async function audited(argv: readonly string[], nodes: typeof healthy = healthy) {
  const fake = fakeRun({ files, nodes });
  const status = await run(['audit', ...argv], fake.io);
  return {
    status,
    stdout: fake.stdout(),
    stderr: fake.stderr(),
    files: fake.files,
    asked: fake.asked,
  };
}

/** The sites of which a store has nights. */
async function sitesIn(store: string): Promise<readonly string[]> {
  const database = await openStore(store, { existing: true });
  const sites = await readSites(database);
  await database.close();
  return sites;
}

describe('audit of several sites', () => {
  it('reports each under its name, in the order of the intents', async () => {
    const told = await audited(['pier.yaml', 'depot.yaml']);
    expect(told.status).toBe(0);
    expect(told.stderr).toBe('');
    expect(told.stdout.match(/^the (pier|depot)$/gm)).toEqual(['the pier', 'the depot']);
    expect(told.asked.length).toBe(4);
  });

  // A promise of a site that nobody looked after would end the process with a trace, and with 1.
  it('ends with 130 when it is interrupted while several are read', async () => {
    const interrupt = new AbortController();
    const read = async () => {
      interrupt.abort();
      return { ok: false, trouble } as const;
    };
    const fake = fakeRun({ files, io: { signal: interrupt.signal, read } });
    expect(await run(['audit', 'pier.yaml', 'depot.yaml'], fake.io)).toBe(130);
    expect(fake.stderr()).toBe('interrupted; nothing was judged or written\n');
  });

  it('asks nothing of a site that an interrupt finds before it has begun', async () => {
    const interrupt = new AbortController();
    interrupt.abort();
    const store = newStorePath();
    const fake = fakeRun({ files, nodes: healthy, io: { signal: interrupt.signal } });
    const argv = ['audit', 'pier.yaml', 'depot.yaml', '--changes', '--store', store];
    expect(await run(argv, fake.io)).toBe(130);
    expect(fake.asked).toEqual([]);
    expect(existsSync(store)).toBe(false);
  });

  it('says how many sites were audited before an interrupt', async () => {
    const interrupt = new AbortController();
    const read: NonNullable<Io['read']> = async ({ name }) => {
      if (fake.stdout() !== '') interrupt.abort();
      if (interrupt.signal.aborted) return { ok: false, trouble };
      return { ok: true, reading: name === 'vault' ? healthy.vault : healthy['plot-1'] };
    };
    const fake = fakeRun({ files, io: { signal: interrupt.signal, read } });
    // One file of history is held by one site at a time: the first is told before the second is read.
    const argv = ['audit', 'pier.yaml', 'depot.yaml', '--changes', '--store', newStorePath()];
    expect(await run(argv, fake.io)).toBe(130);
    expect(fake.stdout()).toMatch(/^the pier: first audit/);
    expect(fake.stderr()).toBe(
      'interrupted; 1 of 2 sites were audited, and of the others nothing was judged or written\n',
    );
  });

  it('ends with what is worst, and writes a file for each', async () => {
    const told = await audited(
      ['depot.yaml', 'pier.yaml', '--format', 'json', '--out', '{site}.json'],
      small,
    );
    expect(told.status).toBe(1);
    expect([...told.files.keys()].filter((file) => file.endsWith('.json'))).toEqual([
      'the-depot.json',
      'the-pier.json',
    ]);
    expect(
      told.stderr.split('\n').filter((line) => /^the (depot|pier): .*report in/.test(line)).length,
    ).toBe(2);
  });

  it('keeps a history of each in one store', async () => {
    const store = newStorePath();
    const argv = ['depot.yaml', '--changes', '--store', store];
    await audited(argv);
    // One file holds one run at a time: the sites of one run take turns.
    const told = await audited(['depot.yaml', 'pier.yaml', '--changes', '--store', store]);
    // Nothing moved at the depot, and no empty line stands for it.
    expect(told.stdout).toMatch(/^the pier: first audit/);
    expect(told.stderr).toBe('');
    expect(told.status).toBe(0);
    expect(await sitesIn(store)).toEqual(['the depot', 'the pier']);
  });

  it('keeps no night of a site that could not be told', async () => {
    const store = newStorePath();
    const { io } = fakeRun({ files, nodes: healthy });
    // The disk is full from the second site on.
    const answers = [undefined, 'ENOSPC'];
    const stdout = { ...io.stdout, settled: async () => answers.shift() };
    const argv = ['audit', 'depot.yaml', 'pier.yaml', '--changes', '--store', store];
    expect(await run(argv, { ...io, stdout })).toBe(73);
    expect(await sitesIn(store)).toEqual(['the depot']);
  });

  it('keeps the night of a site that had only a file to write, whatever befell stdout', async () => {
    const store = newStorePath();
    const { io } = fakeRun({ files, nodes: healthy });
    const stdout = { ...io.stdout, settled: async () => 'ENOSPC' };
    const argv = ['audit', 'depot.yaml', 'pier.yaml', '--changes', '--store', store];
    const out = ['--format', 'json', '--out', '{site}.json'];
    expect(await run([...argv, ...out], { ...io, stdout })).toBe(0);
    expect(await sitesIn(store)).toEqual(['the depot', 'the pier']);
  });

  it.each([
    [
      ['depot.yaml', 'again.yaml'],
      78,
      /again\.yaml: the site 'the depot' is that of depot\.yaml, too/,
    ],
    [['depot.yaml', 'wrong.yaml'], 78, /wrong\.yaml:2:1: /],
    [
      ['depot.yaml', 'pier.yaml', '--format', 'json'],
      64,
      /--format json: several sites do not fit/,
    ],
    [
      ['depot.yaml', 'pier.yaml', '--out', 'report.txt'],
      64,
      /--out report\.txt: several sites would write one file/,
    ],
    [['depot.yaml', 'pier.yaml', '--survey', 's.json'], 64, /--survey is of one site/],
    [['depot.yaml', 'pier.yaml', '--show-commands'], 64, /--show-commands is for one intent/],
    [['depot.yaml', 'pier.yaml', '--intent', 'pier.yaml'], 64, /--intent is one intent/],
    [
      ['depot.yaml', '--cron', '0 2 * * *'],
      64,
      /--cron keeps its times in the queue of collectors/,
    ],
    [
      ['depot.yaml', '--collect', '--cron', 'nightly'],
      64,
      /--cron: 'nightly' is no time; write five/,
    ],
    [['depot.yaml', 'pier.yaml', '--collect', '--cron', '0 2 * * *'], 64, /--cron is of one site/],
    [['depot.yaml', '--collect'], 64, /--collect needs the server/],
    [['depot.yaml', '--collect', '--survey', 's.json'], 64, /--collect has the nodes read/],
    [['depot.yaml', '--changes', '--store', 'postgres://a:s3cret@db/h'], 64, /holds a password/],
  ] as const)('%j ends with %i and says why; nothing is read', async (argv, status, words) => {
    const told = await audited(argv);
    expect(told.status).toBe(status);
    expect(told.stderr).toMatch(words);
    expect(told.stderr).not.toContain('s3cret');
    expect(told.asked).toEqual([]);
  });
});
