import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { readOpenmetrics } from '../report/openmetrics-reader.ts';
import { type FakeSketch, fakeRun, host, office } from './fake-io.ts';

const small = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };

/** How a report of each form begins. */
const starts = {
  text: 'plotting',
  html: '<!doctype html>\n',
  json: '{\n  "causes"',
  jsonl: '{"advice"',
  markdown: '# Saltmarsh survey office\n',
  csv: 'port,node,',
  junit: '<?xml version="1.0"',
  sarif: '{\n  "$schema"',
  openmetrics: '# TYPE hopgauge_',
} as const;
type Form = keyof typeof starts;

function formOf(text: string | undefined): string {
  const found = Object.entries(starts).find(([, start]) => text?.startsWith(start));
  return found?.[0] ?? `none of them: ${text?.slice(0, 40)}`;
}

describe('the outputs of audit', () => {
  const rows: readonly (readonly [string, readonly string[], Readonly<Record<string, Form>>])[] = [
    ['text to stdout', [], { stdout: 'text' }],
    ['a form to stdout', ['--format', 'csv'], { stdout: 'csv' }],
    [
      'the last of several forms to stdout',
      ['--format', 'csv', '--format', 'junit'],
      { stdout: 'junit' },
    ],
    ['text to a file', ['--out', 'a'], { a: 'text' }],
    ['a form to a file', ['--format', 'json', '--out', 'a'], { a: 'json' }],
    ['a file before its form', ['--out', 'a', '--format', 'json'], { a: 'json' }],
    [
      'several files',
      ['--format', 'junit', '--out', 'a', '--format', 'csv', '--out', 'b'],
      { a: 'junit', b: 'csv' },
    ],
    [
      'two files of one form',
      ['--format', 'jsonl', '--out', 'a', '--out', 'b'],
      { a: 'jsonl', b: 'jsonl' },
    ],
    [
      'files, and text here',
      ['--format=sarif', '--out=a', '--format=openmetrics', '--out=b', '--format=text'],
      { a: 'sarif', b: 'openmetrics', stdout: 'text' },
    ],
    [
      'a file that stands before every form of others',
      ['--out', 'a', '--format', 'markdown', '--out', 'b'],
      { a: 'text', b: 'markdown' },
    ],
  ];
  for (const [name, argv, expected] of rows) {
    it(`are ${name} for ${argv.join(' ') || 'nothing said'}`, async () => {
      const fake = fakeRun({ files: office, nodes: small });
      expect(await run(['audit', ...argv], fake.io)).toBe(1);
      const written = ['a', 'b'].flatMap((file) =>
        fake.files.has(file) ? [[file, formOf(fake.files.get(file))]] : [],
      );
      const said = fake.stdout() === '' ? [] : [['stdout', formOf(fake.stdout())]];
      expect(Object.fromEntries([...written, ...said])).toEqual(expected);
    });
  }

  it('say where they are, in one line', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    await run(
      ['audit', '--format', 'junit', '--out', 'a', '--format', 'csv', '--out', 'b'],
      fake.io,
    );
    expect(fake.stderr()).toMatch(/^\d+ judged: .*; report in a, b\n$/);
  });

  it('are all written with --quiet, and stdout only where something is wrong', async () => {
    const argv = ['audit', '--quiet', '--format', 'csv', '--out', 'a', '--format', 'text'];
    const fine = fakeRun({ files: office, nodes: healthy });
    expect(await run(argv, fine.io)).toBe(0);
    expect([fine.stdout(), fine.stderr(), formOf(fine.files.get('a'))]).toEqual(['', '', 'csv']);
    const broken = fakeRun({ files: office, nodes: small });
    expect(await run(argv, broken.io)).toBe(1);
    expect(formOf(broken.stdout())).toBe('text');
  });

  const refused = [
    ['an unknown form', ['--format', 'xls'], 64, 'Allowed choices are text, html, json'],
    ['one file twice', ['--out', 'a', '--out', 'a'], 64, 'two reports cannot be one file'],
    [
      'too many',
      Array.from({ length: 17 }, (_, at) => ['--out', `f${at}`]).flat(),
      64,
      'at most 16 files',
    ],
    [
      'a second file that cannot be written',
      ['--out', 'a', '--out', '/nowhere/b'],
      73,
      '/nowhere/b: not written',
    ],
  ] as const;
  for (const [name, argv, status, said] of refused) {
    it(`refuse ${name}`, async () => {
      const fake = fakeRun({ files: office, nodes: small });
      expect(await run(['audit', ...argv], fake.io)).toBe(status);
      expect(fake.stderr()).toContain(said);
    });
  }

  it('read nothing where one of several files cannot be written', async () => {
    const fake = fakeRun({
      files: office,
      nodes: small,
      io: {
        canWriteFile: async (path) =>
          path === 'b' ? { ok: false, reason: 'permission denied' } : { ok: true },
      },
    });
    expect(await run(['audit', '--out', 'a', '--out', 'b'], fake.io)).toBe(73);
    expect([fake.asked, fake.files.has('a')]).toEqual([[], false]);
  });

  it('carry the facts of the ports of a real audit, and why others are absent', async () => {
    const fake = fakeRun({ files: office, nodes: { 'plot-1': host('en7', 9000) } });
    const argv = ['--format', 'openmetrics', '--out', 'a', '--format', 'csv', '--out', 'b'];
    expect(await run(['audit', ...argv], fake.io)).toBe(2);
    const families = readOpenmetrics(fake.files.get('a') ?? '');
    const speed = families.find(({ name }) => name === 'hopgauge_port_speed_bits_per_second');
    expect(speed?.samples.map(({ labels, value }) => [labels['port'], value])).toEqual([
      ['plot-1:en7', 10_000_000_000],
    ]);
    const nodes = families.find(({ name }) => name === 'hopgauge_node_read');
    expect(nodes?.samples.map(({ labels, value }) => [labels['node'], value])).toEqual([
      ['plot-1', 1],
      ['vault', 0],
    ]);
    expect(fake.files.get('b')).toMatch(
      /\r\nvault:eth4,.*mtuBytes: the node gave no answer \(no answer within 10 s\)/,
    );
  });

  it('count in JUnit XML what was met, by rule', async () => {
    const fake = fakeRun({ files: office, nodes: healthy });
    expect(await run(['audit', '--format', 'junit'], fake.io)).toBe(0);
    const json = fakeRun({ files: office, nodes: healthy });
    await run(['audit', '--format', 'json'], json.io);
    const { tally } = parseJson(json.stdout()) as { tally: { judged: number } };
    const tests = [...fake.stdout().matchAll(/ tests="(\d+)"/g)].map(([, count]) => Number(count));
    expect(tests.reduce((sum, count) => sum + count, 0)).toBe(tally.judged);
    expect(tally.judged).toBeGreaterThan(0);
  });

  it('say with --changes what moved, in every form that has it', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'hopgauge-outputs-'));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const store = ['--changes', '--store', join(folder, 'history.sqlite')];
    const forms = ['json', 'sarif', 'openmetrics'].flatMap((form) => [
      '--format',
      form,
      '--out',
      form,
    ]);
    const night = async (day: number, nodes: FakeSketch['nodes'] = small) => {
      const now = () => new Date(`2026-11-${day}T02:00:00.000Z`);
      const fake = fakeRun({ files: office, nodes, io: { now } });
      const status = await run(['audit', ...store, ...forms, '--format', 'text'], fake.io);
      expect(fake.stderr()).toMatch(/ judged: /);
      const json = reportSchema.parse(parseJson(fake.files.get('json') ?? ''));
      return { fake, status, json };
    };
    const first = await night(24, healthy);
    expect([first.status, first.json.exitStatus, first.json.moved?.first]).toEqual([0, 0, true]);
    const second = await night(25);
    expect([second.status, second.json.exitStatus]).toEqual([1, 1]);
    expect(second.json.moved).toMatchObject({
      first: false,
      lastAt: '2026-11-24T02:00:00.000Z',
      lastCompleteAt: '2026-11-25T02:00:00.000Z',
    });
    expect(new Set(second.json.moved?.findings.map(({ life }) => life))).toEqual(new Set(['new']));
    expect(second.json.moved?.changes).toMatchObject([
      { node: 'vault', port: 'eth4', fact: 'mtuBytes', was: 9000, is: 1500, told: true },
    ]);
    expect(second.fake.files.get('sarif')).toContain('"baselineState": "new"');
    expect(second.fake.stdout()).toContain('vault:eth4: MTU 9000 bytes, now 1500 bytes');
    const third = await night(26, { 'plot-1': host('en7', 9000) });
    expect(third.json.moved?.asleep).toEqual([
      { node: 'vault', seenAt: '2026-11-25T02:00:00.000Z' },
    ]);
    const ended = readOpenmetrics(third.fake.files.get('openmetrics') ?? '').find(
      ({ name }) => name === 'hopgauge_complete_audit_end_time_seconds',
    );
    expect(ended?.samples.map(({ value }) => value)).toEqual([
      Date.parse('2026-11-25T02:00:00.000Z') / 1000,
    ]);
    const fourth = await night(27, healthy);
    expect(fourth.json.moved?.cleared.length).toBeGreaterThan(0);
    expect(fourth.fake.files.get('sarif')).toContain('"baselineState": "absent"');
  });
});
