import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { manifestFile } from '../../src/cli/page-folder.ts';
import { run } from '../../src/cli/run.ts';
import type { NodeReading } from '../../src/collect/types.ts';
import { openStore } from '../../src/history/open-store.ts';
import { onePageNodesMax } from '../../src/report/page/folder/site-pages.ts';
import { ownFolder } from '../history/store.ts';
import { type FakeRun, fakeRun, host, office, twoHosts } from './fake-io.ts';

type Answers = Readonly<Record<string, NodeReading>>;

const healthy: Answers = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const small: Answers = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const away: Answers = { 'plot-1': host('en7', 9000) };

/** The 24th of November and the days after it. */
function nightNow(at: number): () => Date {
  return () => new Date(Date.UTC(2026, 10, 24 + at, 2));
}

async function audits(
  store: string,
  nights: readonly Answers[],
  files: Readonly<Record<string, string>> = office,
): Promise<void> {
  for (const [at, nodes] of nights.entries()) {
    const fake = fakeRun({ files, nodes, io: { now: nightNow(at) } });
    await run(['audit', '--changes', '--store', store], fake.io);
  }
}

async function pages(
  { store, out }: { readonly store: string; readonly out: string },
  argv: readonly string[] = [],
  files: Readonly<Record<string, string>> = office,
): Promise<{ status: number; fake: FakeRun }> {
  const fake = fakeRun({ files, io: { now: nightNow(9) } });
  const status = await run(['page', '--store', store, '--out', out, ...argv], fake.io);
  return { status, fake };
}

function places(): { readonly store: string; readonly out: string } {
  const folder = ownFolder();
  return { store: join(folder, 'history.sqlite'), out: join(folder, 'pages') };
}

function read(out: string, name = 'index.html'): string {
  return readFileSync(join(out, name), 'utf8');
}

describe('page', () => {
  it('writes the latest audit as one page, with its findings and its history', async () => {
    const place = places();
    await audits(place.store, [healthy, small]);
    const { status, fake } = await pages(place);
    expect([status, fake.stdout(), fake.stderr()]).toEqual([
      0,
      '',
      `${place.out}: 1 page written, 0 unchanged\n`,
    ]);
    expect(readdirSync(place.out)).toEqual([manifestFile, 'index.html']);
    const text = read(place.out);
    expect(text).toContain('carries at most 1500 of 9000 bytes');
    expect(text).toMatch(/data-port="vault:eth4" data-at-least="1500" data-at-most="1500"/);
    expect(text).toContain('data-to="2026-11-25T02:00:00.000Z" data-value="9000"');
    expect(text).toContain('data-at="2026-11-25T02:00:00.000Z" data-met="0" data-broken="1"');
  });

  it('says the same as the page of the audit itself', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    const fake = fakeRun({ files: office, nodes: small, io: { now: nightNow(1) } });
    const argv = ['audit', '--changes', '--format', 'html', '--out', '/a.html'];
    await run([...argv, '--store', place.store], fake.io);
    await pages(place);
    expect(read(place.out)).toBe(fake.files.get('/a.html'));
  });

  it('does not show a node as read that the latest audit did not read', async () => {
    const place = places();
    await audits(place.store, [healthy, away]);
    await pages(place);
    const text = read(place.out);
    expect(text).toContain('no answer within 10 s');
    expect(text).toMatch(/data-port="vault:eth4"(?! data-at-)/);
    expect(text).toContain('vault: last read 2026-11-24 02:00 UTC, not since');
  });

  it('writes nothing again that is the same, and rewrites what differs', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    await pages(place);
    const before = statSync(join(place.out, 'index.html')).ino;
    const again = await pages(place);
    expect(again.fake.stderr()).toBe(`${place.out}: 0 pages written, 1 unchanged\n`);
    expect(statSync(join(place.out, 'index.html')).ino).toBe(before);
    await audits(place.store, [healthy, small]);
    expect((await pages(place)).fake.stderr()).toContain('1 page written, 0 unchanged');
  });

  it('of several sites makes a folder each and a page of all', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    const depot = {
      ...office,
      'hopgauge.yaml': twoHosts.replace('Saltmarsh survey office', 'the Depot'),
    };
    await audits(place.store, [small], depot);
    const { status, fake } = await pages(place, [], {});
    expect([status, fake.stderr()]).toEqual([0, `${place.out}: 3 pages written, 0 unchanged\n`]);
    const text = read(place.out);
    const rows = [
      ...text.matchAll(/<a href="([^"]+)">([^<]+)<\/a>.*?<b class="mark (\w+)">([^<]+)</gs),
    ];
    expect(rows.map((row) => row.slice(1))).toEqual([
      [
        'site-~53altmarsh~20survey~20office/index.html',
        'Saltmarsh survey office',
        'met',
        'all met',
      ],
      ['site-the~20~44epot/index.html', 'the Depot', 'strike', '1 broken'],
    ]);
    for (const [, href = ''] of rows) expect(existsSync(join(place.out, href))).toBe(true);
  });

  it('takes out pages of sites that are gone, and nothing that it did not write', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    await audits(place.store, [small], {
      ...office,
      'hopgauge.yaml': twoHosts.replace('Saltmarsh survey office', 'depot'),
    });
    await pages(place, [], {});
    writeFileSync(join(place.out, 'node-mine.html'), 'mine');
    writeFileSync(join(place.out, 'site-depot', 'notes.txt'), 'mine');
    const { fake } = await pages(place, ['--site', 'Saltmarsh survey office'], {});
    expect(fake.stderr()).toContain(', 2 of what is gone removed\n');
    expect(readdirSync(place.out)).toEqual([
      manifestFile,
      'index.html',
      'node-mine.html',
      'site-depot',
    ]);
    expect(readdirSync(join(place.out, 'site-depot'))).toEqual(['notes.txt']);
  });

  it('73 where a page would stand in the place of a file of somebody else', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    mkdirSync(place.out);
    writeFileSync(join(place.out, 'index.html'), 'mine');
    const { status, fake } = await pages(place);
    expect([status, fake.stderr()]).toEqual([
      73,
      `${place.out}/index.html: it is there already and hopgauge page did not write it; move it away, or name another folder with --out\n`,
    ]);
    expect(read(place.out)).toBe('mine');
    expect(existsSync(join(place.out, manifestFile))).toBe(false);
  });

  it.each([
    ['names what is no page', '{"pages":1,"files":["../../etc/index.html"]}'],
    ['is no JSON', 'x'],
  ])('73 for a list of pages that %s; nothing is touched', async (_, list) => {
    const place = places();
    await audits(place.store, [healthy]);
    mkdirSync(place.out);
    writeFileSync(join(place.out, manifestFile), list);
    const { status, fake } = await pages(place);
    expect([status, fake.stderr()]).toEqual([
      73,
      `${place.out}/${manifestFile}: it is no list of pages of hopgauge; remove it together with the pages, or name another folder with --out\n`,
    ]);
    expect(readdirSync(place.out)).toEqual([manifestFile]);
  });

  it('64 for a site that the history has not', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    const { status, fake } = await pages(place, ['--site', 'dept']);
    expect([status, fake.stderr()]).toEqual([
      64,
      "the history knows no site 'dept'; it has Saltmarsh survey office\n",
    ]);
  });

  it('78 for an audit that was kept without what pages need', async () => {
    const place = places();
    await audits(place.store, [healthy]);
    const database = await openStore(place.store);
    await database.all('delete from latest_audit');
    await database.close();
    const { status, fake } = await pages(place);
    expect([status, fake.stderr()]).toEqual([
      78,
      `${place.store}: the latest audit of Saltmarsh survey office was kept by an earlier hopgauge, without what pages need; run hopgauge audit --changes once more\n`,
    ]);
    expect(existsSync(place.out)).toBe(false);
  });

  it('--redact names nothing, in files and their names, also of nights before', async () => {
    const place = places();
    await audits(place.store, [healthy, small, away, healthy]);
    await pages(place, ['--redact']);
    const text = read(place.out).toLowerCase();
    const telling = [
      'saltmarsh',
      'plot-1',
      'vault',
      'plotting',
      'storage',
      'office.example',
      '198.18.20.7',
    ];
    expect(telling.filter((each) => text.includes(each))).toEqual([]);
    expect(text).toContain('data-value="1500"');
    expect(text).toMatch(/node-[0-9a-f]{8}:eth4/);
  });
});

describe('page of a site that is too large for one', () => {
  const names = Array.from({ length: onePageNodesMax + 1 }, (_, at) => `plot-${at}`);
  const large = `intent: 1
site: Saltmarsh survey office
nodes:
${names.map((name) => `  ${name}: { at: ${name}.office.example }`).join('\n')}
  Vault: { at: vault.office.example }
segments: { storage: { mtu: 9000 } }
links:
  - { ends: [plot-0:en7, Vault:eth4], untagged: storage, speed: 10G }
paths: { plotting: { from: plot-0, to: Vault, over: storage } }
policies: [own.yaml]
`;
  const files = { ...office, 'hopgauge.yaml': large };
  const all = Object.fromEntries(names.map((name) => [name, host('en7', 9000)]));

  it('writes an index and a page for each node; what is gone goes', async () => {
    const place = places();
    await audits(place.store, [{ ...all, Vault: host('eth4', 1500) }], files);
    const { fake } = await pages(place, [], files);
    expect(fake.stderr()).toBe(`${place.out}: ${names.length + 2} pages written, 0 unchanged\n`);
    const index = read(place.out);
    const linked = [...index.matchAll(/href="(node-[^"#]+)"/g)].map(([, href = '']) => href);
    expect(new Set(linked).size).toBe(names.length + 1);
    for (const href of linked) expect(existsSync(join(place.out, href))).toBe(true);
    expect(index).toMatch(/data-port="Vault:eth4" data-at-least="1500" data-at-most="1500"/);
    const vault = read(place.out, 'node-~56ault.html');
    expect(vault).toContain('carries at most 1500 of 9000 bytes');
    expect(vault).toContain('last read 2026-11-24 02:00 UTC');
    const other = read(place.out, 'node-plot-7.html');
    expect(other).toContain('nothing broken, unknown or waived');
    expect(other).not.toContain('carries at most');
    await audits(place.store, [healthy, small]);
    expect((await pages(place)).fake.stderr()).toBe(
      `${place.out}: 1 page written, 0 unchanged, ${names.length + 1} of what is gone removed\n`,
    );
    expect(readdirSync(place.out)).toEqual([manifestFile, 'index.html']);
  });

  it('leads nowhere that is not there', async () => {
    const place = places();
    await audits(place.store, [{ ...all, Vault: host('eth4', 1500) }], files);
    await pages(place, [], files);
    const texts = new Map(readdirSync(place.out).map((name) => [name, read(place.out, name)]));
    const dead = [...texts].flatMap(([name, text]) =>
      [...text.matchAll(/href="([^"#]*)(?:#([^"]*))?"/g)].flatMap(([, file = '', id]) => {
        const target = texts.get(file === '' ? name : file);
        const isThere =
          target !== undefined &&
          (id === undefined || target.includes(`id="${id}"`) || target.includes(`id=${id}>`));
        return isThere ? [] : [`${name}: ${file}#${id}`];
      }),
    );
    expect(dead).toEqual([]);
  });
});
