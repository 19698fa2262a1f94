import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { confirmSchema } from '../../src/report/confirm-schema.ts';
import { whole } from '../report/whole.ts';
import { type FakeSketch, fakeRun, host, office, twoHosts } from './fake-io.ts';

const change = 'change: 1\nabout: storage to 9000\nsegments: { storage: { mtu: 9000 } }\n';
const before = { 'plot-1': host('en7', 1500), vault: host('eth4', 1500) };
const made = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const half = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const files = { ...office, 'change.yaml': change };

/** Rehearses on `before`, and gives what lies on the disk then. */
async function rehearsed(argv: readonly string[] = [], sketch: FakeSketch = {}) {
  const fake = fakeRun({ nodes: before, ...sketch, files: { ...files, ...sketch.files } });
  const status = await run(['rehearse', 'change.yaml', '--quiet', ...argv], fake.io);
  return { status, files: fake.files, stdout: fake.stdout(), stderr: fake.stderr() };
}

async function confirmed(
  argv: readonly string[],
  sketch: Omit<FakeSketch, 'files'> & { readonly files: ReadonlyMap<string, string> },
) {
  const fake = fakeRun({ nodes: made, ...sketch, files: Object.fromEntries(sketch.files) });
  const status = await run(['confirm', ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr(), fake };
}

const keptIn = (disk: ReadonlyMap<string, string>) =>
  [...disk.keys()].filter((name) => name.startsWith('/home/tide/.local/state/hopgauge/rehearsed/'));

describe('what a rehearsal keeps', () => {
  it('lies in the state folder, one file for a change, with texts and survey, and is the owner’s', async () => {
    const modes: unknown[] = [];
    const disk = new Map<string, string>();
    const folders: string[] = [];
    await rehearsed([], {
      io: {
        writeFile: async (path, text, audience) => {
          disk.set(path, whole(text));
          modes.push(audience);
          return { ok: true };
        },
        makeFolder: async (path) => {
          folders.push(path);
          return { ok: true };
        },
      },
    });
    const [file = '', ...more] = keptIn(disk);
    expect(more).toEqual([]);
    expect(file).toMatch(/\/rehearsed\/[0-9a-f]{24}\.json$/);
    expect(folders).toEqual(['/home/tide/.local/state/hopgauge/rehearsed']);
    expect(modes).toEqual(['owner']);
    expect(parseJson(disk.get(file) ?? '')).toMatchObject({
      kept: 1,
      rehearsedAt: '2026-11-25T02:00:00.000Z',
      change: 'change.yaml',
      intent: 'hopgauge.yaml',
      files: { 'change.yaml': change, 'hopgauge.yaml': twoHosts },
      order: ['mtu plot-1:en7', 'mtu vault:eth4'],
      survey: { survey: 1 },
    });
  });

  it('goes where --keep says, and the text says how to confirm it', async () => {
    const { files: disk, stdout } = await rehearsed(['--keep', 'my kept.json']);
    expect(disk.has('my kept.json')).toBe(true);
    expect(keptIn(disk)).toEqual([]);
    expect(stdout).toContain(
      "\nafter the change: hopgauge confirm change.yaml --kept 'my kept.json'\n",
    );
  });

  it('says when it replaces an earlier one, and puts that aside where a step of it is done', async () => {
    const first = await rehearsed();
    expect(first.stderr).toBe('');
    const again = await rehearsed([], { nodes: half, files: Object.fromEntries(first.files) });
    const same = await rehearsed([], { files: Object.fromEntries(first.files) });
    expect(same.stderr).toBe('this replaces the rehearsal of 2026-11-25 02:00 UTC\n');
    expect(keptIn(same.files)).toHaveLength(1);
    const [file = ''] = keptIn(first.files);
    const aside = file.replace('.json', '.20261125T020000Z.json');
    expect(again.stderr).toBe(
      `this replaces the rehearsal of 2026-11-25 02:00 UTC, of which steps are done or gone; that one is in ${aside} now, for confirm --kept\n`,
    );
    expect(again.files.get(aside)).toBe(first.files.get(file));
    const { status, stdout } = await confirmed(['change.yaml', '--kept', aside], again);
    expect(stdout).toContain('2 of 2 steps done');
    expect(status).toBe(0);
  });

  it('stays when nothing is left to set: the state before the change would be lost', async () => {
    const first = await rehearsed();
    const after = await rehearsed([], { nodes: made, files: Object.fromEntries(first.files) });
    expect(after.stdout).not.toContain('after the change');
    expect(after.stderr).toBe('');
    expect(keptIn(after.files)).toEqual(keptIn(first.files));
    const [file = ''] = keptIn(first.files);
    expect(after.files.get(file)).toBe(first.files.get(file));
  });

  const refusing = {
    io: { writeFile: async () => ({ ok: false, reason: 'permission denied' }) as const },
  };
  it('does not cost the result where it cannot be written', async () => {
    const { status, stdout, stderr } = await rehearsed([], refusing);
    expect(stdout).toContain('rehearsal: storage to 9000');
    expect(stdout).not.toContain('after the change');
    expect(stderr).toMatch(
      /^this rehearsal was not kept, and cannot be confirmed: \/home.*: permission denied; name another place with --keep\n$/,
    );
    expect(status).toBe(0);
  });

  it('is status 73 where a named place cannot be written, with the result all the same', async () => {
    const { status, stdout, stderr } = await rehearsed(['--keep', '/nowhere/k.json']);
    expect(stdout).toContain('rehearsal: storage to 9000');
    expect(stderr).toBe(
      '/nowhere/k.json: not written: its folder does not exist; name another place with --keep\n',
    );
    expect(status).toBe(73);
  });

  it('is asked for a named place before anything is read', async () => {
    const asked: string[] = [];
    const { status, stdout } = await rehearsed(['--keep', 'k.json'], {
      io: {
        canWriteFile: async () => ({ ok: false, reason: 'permission denied' }),
        read: async ({ name }) => {
          asked.push(name);
          throw new Error('not to be read');
        },
      },
    });
    expect([status, stdout, asked]).toEqual([73, '', []]);
  });
});

describe('confirm', () => {
  it('confirms a change that was made as rehearsed', async () => {
    const { status, stdout, stderr } = await confirmed(
      ['change.yaml', '--quiet'],
      await rehearsed(),
    );
    expect(stdout).toBe(`confirmed: storage to 9000: 2 of 2 steps done, every path as foretold
rehearsed 2026-11-25 02:00 UTC on what was read until 2026-11-25 02:00 UTC; read
again until 2026-11-25 02:00 UTC; nothing was changed

done        steps 1 to 2
as foretold plotting: 9000 of 9000 bytes pass
mended      plotting: carries at most 1500 of 9000 bytes
`);
    expect(stderr).toBe('');
    expect(status).toBe(0);
  });

  it('says what is not done, with status 1', async () => {
    const { status, stdout } = await confirmed(['change.yaml'], {
      ...(await rehearsed()),
      nodes: half,
    });
    expect(stdout.split('\n').slice(0, 2).join(' ')).toBe(
      'not confirmed: storage to 9000: 1 of 2 steps done, 0 of 1 path as foretold, 1 with less, 1 not mended',
    );
    expect(stdout).toContain(
      'not done    step 2, vault:eth4: mtu is 1500, as before; to be 9000\n',
    );
    expect(stdout).toContain('not mended  plotting: carries at most 1500 of 9000 bytes (error)\n');
    expect(status).toBe(1);
  });

  it('confirms the middle of a change', async () => {
    const { status, stdout } = await confirmed(['change.yaml', '--step', '1'], {
      ...(await rehearsed()),
      nodes: half,
    });
    expect(stdout).toContain('confirmed: storage to 9000, as far as step 1: 1 of 1 step done');
    expect(stdout).toContain('done        step 1\nto do       step 2\n');
    expect(status).toBe(0);
  });

  it('has status 2 where a node does not answer', async () => {
    const { status, stdout } = await confirmed(['change.yaml'], {
      ...(await rehearsed()),
      nodes: { vault: made.vault },
    });
    expect(stdout).toContain('cannot tell step 1, plot-1:en7: mtu to 9000: plot-1 could not be');
    expect(stdout).toContain('not read    plot-1: no answer within 10 s');
    expect(status).toBe(2);
  });

  it('needs neither the change nor the intent any more, and says so of the change', async () => {
    const disk = new Map((await rehearsed()).files);
    disk.delete('change.yaml');
    disk.set('hopgauge.yaml', 'broken: [');
    const { status, stderr, stdout } = await confirmed(['change.yaml'], { files: disk });
    expect(stderr).toBe(
      'change.yaml: no such file; this confirms the change as it was rehearsed on 2026-11-25 02:00 UTC\n',
    );
    expect(stdout).toContain('confirmed: storage to 9000: 2 of 2 steps done');
    expect(status).toBe(0);
  });

  it('confirms what was rehearsed where the change was edited since, and says so', async () => {
    const disk = new Map((await rehearsed()).files);
    disk.set('change.yaml', change.replace('9000 }', '4000 }'));
    const { status, stderr } = await confirmed(['change.yaml'], { files: disk });
    expect(stderr).toContain(
      'change.yaml: it is not what was rehearsed; this confirms the change as',
    );
    expect(status).toBe(0);
  });

  it('takes a second intent as the change, and files that it includes', async () => {
    const included = {
      'hopgauge.yaml': `${twoHosts.replace(/segments:.*\n/, '')}include: [segments.yaml]\n`,
      'segments.yaml': 'segments: { storage: { mtu: 9000 } }\n',
      'change.yaml': twoHosts.replace('mtu: 9000', 'mtu: 4000'),
    };
    const first = await rehearsed([], { files: included });
    const disk = new Map(first.files);
    disk.delete('segments.yaml');
    const nodes = { 'plot-1': host('en7', 4000), vault: host('eth4', 4000) };
    const { status, stdout } = await confirmed(['change.yaml'], { files: disk, nodes });
    expect(stdout).toContain('confirmed: change.yaml: 2 of 2 steps done, every path as foretold');
    expect(status).toBe(0);
  });

  it('works against a saved survey without reading, and refuses one of before', async () => {
    const { files: disk } = await rehearsed();
    const saved = fakeRun({ files, nodes: made });
    await run(['survey', 'hopgauge.yaml', '--quiet', '--out', 'w.json'], saved.io);
    const survey = saved.files.get('w.json') ?? '';
    const later = survey.replaceAll('2026-11-25T02', '2026-11-25T03');
    const both = new Map([...disk, ['w.json', later]]);
    const { status, fake } = await confirmed(['change.yaml', '--survey', 'w.json'], {
      files: both,
    });
    expect([status, fake.asked]).toEqual([0, []]);
    both.set('w.json', survey);
    const same = await confirmed(['change.yaml', '--survey', 'w.json'], { files: both });
    expect([same.status, same.stderr]).toEqual([
      78,
      'w.json: read 2026-11-25 02:00 UTC: that is what the change was rehearsed on; name a survey of after the change\n',
    ]);
    both.set('w.json', survey.replaceAll('2026-11-25T02', '2026-11-24T02'));
    const old = await confirmed(['change.yaml', '--survey', 'w.json'], { files: both });
    expect(old.stderr).toBe(
      'w.json: read 2026-11-24 02:00 UTC, before what the change was rehearsed on (2026-11-25 02:00 UTC); name a survey of after the change\n',
    );
    expect(old.status).toBe(78);
  });

  it('finds what was kept by the intent and from the folder that it was kept for', async () => {
    const io = { workingFolder: '/desk' };
    const at = (all: Readonly<Record<string, string>>) =>
      Object.fromEntries(
        Object.entries(all).flatMap(([name, text]) => [
          [name, text],
          [`/desk/${name}`, text],
        ]),
      );
    const first = await rehearsed([], { io, files: at(files) });
    const here = await confirmed(['change.yaml'], { files: first.files, io });
    expect(here.status).toBe(0);
    const elsewhere = await confirmed(['/desk/change.yaml', '--intent', '/desk/hopgauge.yaml'], {
      files: first.files,
      io: { workingFolder: '/loft' },
    });
    expect(elsewhere.status).toBe(0);
    const other = await confirmed(['change.yaml', '--intent', 'loft.yaml'], {
      files: first.files,
      io,
    });
    expect(other.status).toBe(78);
  });

  it('prints JSON that keeps to its schema, and Markdown for a ticket', async () => {
    const kept = { ...(await rehearsed()), nodes: half };
    const json = await confirmed(['change.yaml', '--format', 'json'], kept);
    expect(confirmSchema.safeParse(parseJson(json.stdout)).error).toBeUndefined();
    const again = await confirmed(['change.yaml', '--format', 'json'], kept);
    expect(again.stdout).toBe(json.stdout);
    const markdown = await confirmed(['change.yaml', '--format', 'markdown'], kept);
    expect(
      markdown.stdout,
    ).toBe(`**not confirmed: storage to 9000: 1 of 2 steps done, 0 of 1 path as foretold, 1 with less, 1 not mended**

Saltmarsh survey office: rehearsed 2026-11-25 02:00 UTC on what was read until 2026-11-25 02:00 UTC; read again until 2026-11-25 02:00 UTC; nothing was changed.

- not done: step 2, vault:eth4: mtu is 1500, as before; to be 9000
- done: step 1
- less: plotting: 1500 of 9000 bytes pass; foretold: 9000 of 9000 bytes pass
- not mended: plotting: carries at most 1500 of 9000 bytes (error)

let this be mended or taken back before the change is called done.
`);
  });

  it('shows what it would ask, and asks nothing', async () => {
    const { status, stdout, fake } = await confirmed(
      ['change.yaml', '--show-commands'],
      await rehearsed(),
    );
    expect(stdout).toContain('plot-1: SSH to plot-1.office.example');
    expect([status, fake.asked]).toEqual([0, []]);
  });
});

describe('confirm refuses', () => {
  it.each([
    ['--step', '0', 'from 1'],
    ['--step', 'two', 'from 1'],
    ['--step', '1.5', 'from 1'],
    ['--step', '3', '--step 3: the change has 2; give 1 to 2'],
  ])('%s %s', async (option, value, words) => {
    const { status, stderr, stdout } = await confirmed(
      ['change.yaml', option, value],
      await rehearsed(),
    );
    expect(stderr).toContain(words);
    expect([status, stdout]).toEqual([64, '']);
  });

  it('a change that was not rehearsed, and says what to do', async () => {
    const { status, stderr } = await confirmed(['change.yaml'], {
      files: new Map(Object.entries(files)),
    });
    expect(stderr).toMatch(
      /^no rehearsal of change\.yaml is kept: \/home\/tide\/\.local\/state\/hopgauge\/rehearsed\/[0-9a-f]{24}\.json: no such file; before the change run hopgauge rehearse change\.yaml, with the same --intent; or name what rehearse --keep wrote with --kept\n$/,
    );
    expect(status).toBe(78);
  });

  const remedy = 'name what rehearse --keep wrote; before the change, rehearse it again';
  it.each([
    ['a damaged file', '{ "kept": 1, "ord', /^k\.json: damaged: not JSON: .+; /],
    ['a list', '[]', /^k\.json: not a kept rehearsal of this version: top level: .+; /],
    [
      'another version',
      '{ "kept": 2 }',
      /^k\.json: not a kept rehearsal of this version: kept: .+; /,
    ],
    [
      'a rehearsal of --out',
      '{ "rehearsal": 1 }',
      /^k\.json: what rehearse --out wrote, and not what it kept; /,
    ],
    ['a survey', '{ "survey": 1 }', /^k\.json: a saved survey; /],
  ])('%s in place of what was kept', async (_, text, words) => {
    const { status, stderr, fake } = await confirmed(['change.yaml', '--kept', 'k.json'], {
      files: new Map(Object.entries({ ...files, 'k.json': text })),
    });
    expect(stderr).toMatch(words);
    expect(stderr).toContain(remedy);
    expect([status, fake.asked]).toEqual([78, []]);
  });

  const tampered = async (tamper: (text: string) => string) => {
    const { files: disk } = await rehearsed(['--keep', 'k.json']);
    const text = tamper(disk.get('k.json') ?? '');
    return confirmed(['change.yaml', '--kept', 'k.json'], {
      files: new Map([...disk, ['k.json', text]]),
    });
  };

  it('a kept intent that cannot be loaded', async () => {
    const { status, stderr } = await tampered((text) => text.replace('nodes:', 'nods:'));
    expect(stderr).toMatch(/^k\.json: what it holds cannot be used; rehearse the change again:\n/);
    expect(status).toBe(78);
  });

  it('a kept order that is not that of its steps', async () => {
    const { status, stderr } = await tampered((text) =>
      text.replace('"mtu vault:eth4"', '"mtu vault:eth5"'),
    );
    expect(stderr).toContain(
      'change.yaml: its steps were made out otherwise when it was rehearsed',
    );
    expect(status).toBe(78);
  });

  it('a number in quotes in the kept survey', async () => {
    const { status, stderr } = await tampered((text) =>
      text.replace('"mtuBytes": 1500', '"mtuBytes": "1500"'),
    );
    expect(stderr).toContain(
      'k.json: not a kept rehearsal of this version: survey.nodes.0.ports.0',
    );
    expect(status).toBe(78);
  });
});
