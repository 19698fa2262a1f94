import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { fakeRun } from './fake-io.ts';

const intent = (path: string) => `intent: 1
site: Saltmarsh survey office
access: { hosts: { ssh: { user: auditor } } }
nodes:
  plot-1: { at: 198.18.20.1, access: [hosts] }
  vault: { at: 198.18.20.7, access: [hosts] }
  attic: { at: 198.18.20.9, access: [hosts] }
segments: { storage: { mtu: 9000 } }
links: [{ ends: [plot-1:desk, vault:eth4], untagged: storage, speed: 10G }]
paths:
  plotting: ${path}
`;
const allowed = intent('{ from: plot-1, to: vault, over: storage, load: allowed }');
const silent = intent('{ from: plot-1, to: vault, over: storage }');

describe('transfer', () => {
  it('says what it would send and run with --show-commands, and sends nothing', async () => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': allowed } });
    const argv = [
      'transfer',
      'plot-1',
      'vault',
      '--both-ways',
      '--streams',
      '2',
      '--show-commands',
    ];
    expect(await run(argv, fake.io)).toBe(0);
    const [there = '', back] = fake.stdout().split(/^(?=vault )/m);
    // 10 Gb/s x 8948 / 9038 x 10 s / 8 (RFC 6349 4.1.1 with timestamps).
    expect(there).toBe(
      [
        'plot-1 (198.18.20.1) to vault (198.18.20.7): TCP over 2 connections, 10 s or',
        '12.376 GB, whichever comes first, to a port that the system chooses',
        '  both ends end by themselves, 10 s later at the latest',
        '  this loads the path plotting and all that shares it',
        '  the addresses are those of `at`; with --survey FILE those that the path uses\n',
      ].join('\n'),
    );
    expect(back).toMatch(/^vault \(198\.18\.20\.7\) to plot-1 \(198\.18\.20\.1\): /);
    expect(fake.stdout()).toContain('  perl -e PROGRAM (all systems: ');
    expect(fake.stdout().endsWith('nothing was sent\n')).toBe(true);
  });

  const rows: readonly (readonly [readonly string[], string, number, string])[] = [
    [
      ['plot-1', 'vault'],
      silent,
      78,
      'hopgauge.yaml:11:3: path plotting does not allow that it is loaded; write load: allowed in it, if everything that uses it can bear that\n',
    ],
    [
      ['plot-1', 'attic'],
      allowed,
      78,
      'hopgauge.yaml: no path between plot-1 and attic; declare one under paths: and write load: allowed in it, if it may be loaded\n',
    ],
    [['plot-1', 'valt'], allowed, 64, "no node 'valt' in hopgauge.yaml; write 'vault'\n"],
    [
      ['vault', 'plot-1'],
      allowed.replace(
        'plot-1: { at: 198.18.20.1, access: [hosts] }',
        'plot-1: { unread: printer }',
      ),
      64,
      'nothing can be run on plot-1: a transfer needs SSH to both ends; give the node an SSH access\n',
    ],
  ];
  for (const [ends, text, status, stderr] of rows) {
    it(`${status}: ${stderr.slice(0, 60)}`, async () => {
      const fake = fakeRun({ files: { 'hopgauge.yaml': text } });
      expect(await run(['transfer', ...ends], fake.io)).toBe(status);
      expect(fake.stderr()).toBe(stderr);
      expect(fake.stdout()).toBe('');
    });
  }

  it.each([
    ['--for', '2'],
    ['--for', '31s'],
    ['--for', '1m'],
    ['--streams', '0'],
    ['--streams', '9'],
    ['--at-most', '5'],
    ['--at-most', '0GB'],
    ['--at-most', '9999GB'],
  ])('64: %s %s', async (option, value) => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': allowed } });
    expect(await run(['transfer', 'plot-1', 'vault', option, value], fake.io)).toBe(64);
    expect(fake.stderr()).toContain(option);
  });

  it.each([
    [['--into', 'monday.json'], 78, /^monday\.json: no such file; save one with /],
    [['--store', '/dev/null/h'], 73, /^\/dev\/null\/h: it cannot be opened; look at the folder /],
  ])('loads nothing where its result could not be kept: %s', async (option, status, words) => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': allowed } });
    expect(await run(['transfer', 'plot-1', 'vault', ...option], fake.io)).toBe(status);
    // Nothing is announced, so nothing was about to be sent.
    expect(fake.stderr()).toMatch(words);
    expect(fake.stderr().match(/\n/g)).toHaveLength(1);
    expect(fake.stdout()).toBe('');
  });

  it('needs an intent', async () => {
    const fake = fakeRun();
    expect(await run(['transfer', 'plot-1', 'vault'], fake.io)).toBe(78);
    expect(fake.stderr()).toContain('no intent file');
  });
});
