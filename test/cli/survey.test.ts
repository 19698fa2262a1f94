import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import { fakeRun, host, office } from './fake-io.ts';

const here = host('eth4', 9000, {
  routes: [{ to: '198.18.20.2', device: 'eth4', from: '198.18.20.7' }],
  mounts: [{ server: '198.18.20.2', kind: 'nfs', at: '/plots' }],
  sessions: [
    {
      local: '198.18.20.7',
      remote: '198.18.20.2',
      count: 2,
      segmentBytes: 1448,
      advertisedBytes: 8948,
      pathMtuBytes: 9000,
      timestamps: true,
    },
  ],
});

describe('survey', () => {
  it('reads this machine where there is no intent, and says what it tells', async () => {
    const fake = fakeRun({ nodes: { 'this-machine': here } });
    expect(await run(['survey'], fake.io)).toBe(0);
    expect(fake.asked).toEqual(['this-machine by local']);
    expect(fake.stdout()).toBe(
      [
        'this-machine: host, linux',
        '  eth4: 9000 bytes, 10 Gb/s full, 198.18.20.7/24',
        '  /plots: nfs from 198.18.20.2, reached by eth4 (9000 bytes)',
        '  sessions with 198.18.20.2 use 1448-byte segments, this end offers 9000: the',
        '  far end or something on the way is at 1500',
        '',
        '1 node read 2026-11-25 02:00 UTC',
        '',
      ].join('\n'),
    );
  });

  it('reads the nodes of the intent of this folder, and 2 where one gave no answer', async () => {
    const fake = fakeRun({ files: office, nodes: { vault: here } });
    expect(await run(['survey'], fake.io)).toBe(2);
    expect(fake.asked).toEqual(['plot-1 by ssh', 'vault by ssh']);
    expect(fake.stdout()).toContain('  not read  ssh plot-1.office.example: no answer within 10 s');
    expect(fake.stdout()).toContain('1 of 2 nodes read');
  });

  it('saves what can be loaded again', async () => {
    const fake = fakeRun({ nodes: { 'this-machine': here } });
    expect(await run(['survey', '--out', 'here.json'], fake.io)).toBe(0);
    const loaded = loadSurvey(fake.files.get('here.json') ?? '', 'here.json');
    expect(loaded.ok && loaded.survey.nodes[0]?.sessions).toEqual(here.sessions);
    expect(fake.stdout()).toMatch(/\n1 node read 2026-11-25 02:00 UTC\nsaved in here.json\n$/);
  });

  it('writes the saved form to stdout with --format json', async () => {
    const fake = fakeRun({ nodes: { 'this-machine': here } });
    expect(await run(['survey', '--format', 'json'], fake.io)).toBe(0);
    expect(loadSurvey(fake.stdout(), 'stdout').ok).toBe(true);
  });

  it('lets no control character of a saved survey reach the terminal', async () => {
    const evil = 'eth4\u001b[2J\u202e\u009b31m\r';
    const port = { name: evil, facts: { mtuBytes: 9000, kind: evil, addresses: [evil] } };
    const mount = { server: evil, kind: 'nfs', at: evil } as const;
    const session = { local: evil, remote: evil, count: 1, segmentBytes: 8948, timestamps: true };
    const reading = {
      ...here,
      facts: { systemKind: evil, systemName: evil, systemText: evil },
      ports: [
        port,
        { name: evil, facts: {}, gaps: { mtuBytes: { reason: 'denied', words: evil } } },
      ],
      mounts: [mount],
      sessions: [session],
    } as const;
    const fake = fakeRun({ nodes: { 'this-machine': reading } });
    expect(await run(['survey', '--verbose'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('eth4 [2J 31m : 9000 bytes');
    expect(fake.stdout().replaceAll('\n', '')).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202e]/);
  });

  it('hides addresses in what it shows, and refuses to save what could not be judged', async () => {
    const fake = fakeRun({ nodes: { 'this-machine': here } });
    expect(await run(['survey', '--redact'], fake.io)).toBe(0);
    expect(fake.stdout()).not.toMatch(/198\.18|plots/);
    expect(fake.stdout()).toContain('eth4: 9000 bytes');
    const saving = fakeRun({ nodes: { 'this-machine': here } });
    expect(await run(['survey', '--redact', '--out', 'x.json'], saving.io)).toBe(64);
    expect(saving.asked).toEqual([]);
  });
});
