import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { fakeRun, host, office, twoHosts } from './fake-io.ts';

const healthy = { 'plot-1': host('en7', 9000), vault: host('eth4', 9000) };
const small = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
const asleep = { 'plot-1': host('en7', 9000) };
const esc = String.fromCharCode(27);

describe('audit', () => {
  const rows = [
    ['all met', healthy, [], 0, 'the declared 9000 bytes pass every hop'],
    ['one end small', small, [], 1, 'raise vault:eth4'],
    ['one end not read', asleep, [], 2, 'no answer within 10 s'],
    ['nothing read', {}, [], 2, '0 of 2 nodes read'],
    ['another intent', small, ['hopgauge.yaml'], 1, 'raise vault:eth4'],
    ['another intent by option', small, ['--intent', 'hopgauge.yaml'], 1, 'raise vault:eth4'],
  ] as const;
  for (const [name, nodes, argv, status, said] of rows) {
    it(`${status}: ${name}`, async () => {
      const fake = fakeRun({ files: office, nodes });
      expect(await run(['audit', ...argv], fake.io)).toBe(status);
      expect(fake.stdout()).toContain(said);
      expect(fake.stderr()).toBe('');
      expect(fake.asked).toEqual(['plot-1 by ssh', 'vault by ssh']);
    });
  }

  it('prints nothing with --quiet while all is met, and everything else otherwise', async () => {
    const fine = fakeRun({ files: office, nodes: healthy, terminal: true });
    expect(await run(['audit', '--quiet'], fine.io)).toBe(0);
    expect([fine.stdout(), fine.stderr()]).toEqual(['', '']);
    const broken = fakeRun({ files: office, nodes: small });
    expect(await run(['audit', '--quiet'], broken.io)).toBe(1);
    expect(broken.stdout()).toContain('raise vault:eth4');
  });

  it('writes JSON of the documented form, with the status that it ends with', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    expect(await run(['audit', '--format', 'json'], fake.io)).toBe(1);
    const report = reportSchema.parse(parseJson(fake.stdout()));
    expect(report.exitStatus).toBe(1);
    expect(report.paths[0]?.hops.map(({ port }) => port)).toEqual(['plot-1:en7', 'vault:eth4']);
  });

  it('writes to a file instead, without colour', async () => {
    const fake = fakeRun({ files: office, nodes: small, terminal: true, columns: 120 });
    expect(await run(['audit', '--out', 'report.txt'], fake.io)).toBe(1);
    expect(fake.stdout()).toBe('');
    expect(fake.files.get('report.txt')).toContain('raise vault:eth4');
    expect(fake.files.get('report.txt')).not.toContain(esc);
    expect(fake.stderr()).toMatch(
      /\d+ judged: \d+ met, [1-9]\d* broken, .*2 nodes read .* UTC; report in report\.txt\n$/,
    );
  });

  it('writes to a file without a word with --quiet', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    expect(await run(['audit', '--quiet', '--out', 'report.txt'], fake.io)).toBe(1);
    expect([fake.stdout(), fake.stderr()]).toEqual(['', '']);
    expect(fake.files.get('report.txt')).toContain('raise vault:eth4');
  });

  it('78 for a saved survey in the place of the intent, with what was meant', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    await run(['survey', '--out', 'tuesday.json', '--quiet'], fake.io);
    const again = fakeRun({ files: Object.fromEntries(fake.files) });
    expect(await run(['audit', 'tuesday.json'], again.io)).toBe(78);
    expect(again.stderr()).toBe(
      'tuesday.json: a saved survey, where an intent is asked for; write hopgauge audit INTENT --survey tuesday.json\n',
    );
    expect(again.asked).toEqual([]);
  });

  it('78 before anything is read, for a waiver of a rule that nobody has', async () => {
    const waiver =
      'waivers: [{ rule: path-clearanc, on: vault, until: 2027-01-01, because: by design }]';
    const files = { ...office, 'hopgauge.yaml': `${office['hopgauge.yaml']}\n${waiver}\n` };
    const fake = fakeRun({ files, nodes: healthy });
    expect(await run(['audit'], fake.io)).toBe(78);
    expect(fake.stderr()).toMatch(
      /^hopgauge\.yaml:\d+:19: no rule in force has this name; 'path-clearanc'; write 'path-clearance'\n$/,
    );
    expect(fake.asked).toEqual([]);
  });

  it('73 where the file cannot be written', async () => {
    const fake = fakeRun({ files: office, nodes: healthy });
    expect(await run(['audit', '--out', '/nowhere/report.txt'], fake.io)).toBe(73);
    expect(fake.stderr()).toBe(
      '/nowhere/report.txt: not written: its folder does not exist; name another place with --out\n',
    );
  });

  const looks = [
    ['a terminal', true, {}, true],
    ['no terminal', false, {}, false],
    ['NO_COLOR', true, { NO_COLOR: '1' }, false],
    ['an empty NO_COLOR', true, { NO_COLOR: '' }, true],
    ['a dumb terminal', true, { TERM: 'dumb' }, false],
  ] as const;
  for (const [name, terminal, env, coloured] of looks) {
    it(`${coloured ? 'has' : 'has no'} colour on ${name}`, async () => {
      const fake = fakeRun({ files: office, nodes: small, terminal, env });
      expect(await run(['audit'], fake.io)).toBe(1);
      expect(fake.stdout().includes(esc)).toBe(coloured);
    });
  }

  it('shows progress on a terminal and takes it away again', async () => {
    const fake = fakeRun({ files: office, nodes: healthy, terminal: true });
    await run(['audit'], fake.io);
    expect(fake.stderr()).toContain('reading: 1 of 2 nodes done');
    expect(fake.stderr().endsWith(`\r${esc}[K`)).toBe(true);
  });

  it('hides names with --redact', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    expect(await run(['audit', '--redact'], fake.io)).toBe(1);
    expect(fake.stdout()).not.toMatch(/vault|plot-1|plotting|storage|office|198\.18/);
    expect(fake.stdout()).toMatch(/raise node-[0-9a-f]{8}:eth4/);
  });

  it('judges a saved survey as it judged the nodes, and reads nothing', async () => {
    const fake = fakeRun({ files: office, nodes: small });
    expect(await run(['survey', '--out', 'tuesday.json', '--quiet'], fake.io)).toBe(0);
    expect(fake.asked.length).toBe(2);
    const again = fakeRun({ files: Object.fromEntries(fake.files) });
    expect(await run(['audit', '--survey', 'tuesday.json'], again.io)).toBe(1);
    expect(again.asked).toEqual([]);
    const direct = fakeRun({ files: office, nodes: small });
    await run(['audit'], direct.io);
    expect(again.stdout()).toBe(direct.stdout());
  });

  const surveys = [
    [
      'not there',
      {},
      'tuesday.json: no such file; save one with hopgauge survey --out tuesday.json\n',
    ],
    ['not JSON', { 'tuesday.json': '{' }, 'tuesday.json: not JSON: '],
    [
      'no survey',
      { 'tuesday.json': '{"survey":1}' },
      'tuesday.json: not a survey of this version: ',
    ],
  ] as const;
  for (const [name, files, stderr] of surveys) {
    it(`78 where the survey is ${name}`, async () => {
      const fake = fakeRun({ files: { ...office, ...files } });
      expect(await run(['audit', '--survey', 'tuesday.json'], fake.io)).toBe(78);
      expect(fake.stderr().startsWith(stderr)).toBe(true);
    });
  }

  it('sends nothing with --show-commands, and names every address and command', async () => {
    const fake = fakeRun({ files: office });
    expect(await run(['audit', '--show-commands'], fake.io)).toBe(0);
    expect(fake.asked).toEqual([]);
    for (const said of [
      'plot-1: SSH to plot-1.office.example',
      'ip -j -d link',
      'nothing was sent',
    ]) {
      expect(fake.stdout()).toContain(said);
    }
  });

  it('130 after an interrupt, with nothing judged or written', async () => {
    const stop = new AbortController();
    const fake = fakeRun({
      files: office,
      io: {
        signal: stop.signal,
        read: async () => {
          stop.abort();
          return { ok: true, reading: host('en7', 9000) };
        },
      },
    });
    expect(await run(['audit', '--out', 'report.txt'], fake.io)).toBe(130);
    expect(fake.stderr()).toBe('interrupted; nothing was judged or written\n');
    expect(fake.files.has('report.txt')).toBe(false);
  });
});

describe('an intent that cannot be used', () => {
  it('78 where there is none, with one to copy that works', async () => {
    const fake = fakeRun();
    expect(await run(['audit'], fake.io)).toBe(78);
    expect(fake.stderr()).toMatch(
      /^no intent file hopgauge\.yaml in this folder\nname the intent file with --intent FILE;/,
    );
    const copied = fake
      .stderr()
      .split('\n')
      .filter((line) => line.startsWith('  '))
      .map((line) => line.slice(2));
    expect(copied.length).toBe(4);
    const next = fakeRun({
      files: { 'hopgauge.yaml': `${copied.join('\n')}\n` },
      nodes: {},
    });
    expect(await run(['audit'], next.io)).toBe(2);
    expect(next.asked).toEqual(['plot-1 by ssh', 'vault by ssh']);
  });

  it('78 where the named one is missing', async () => {
    const fake = fakeRun({ files: office });
    expect(await run(['audit', 'other.yaml'], fake.io)).toBe(78);
    expect(fake.stderr()).toMatch(/^other\.yaml:1:1: .*no such file/);
  });

  it('78 with every fault of it, by place', async () => {
    const fake = fakeRun({
      files: { ...office, 'hopgauge.yaml': twoHosts.replace('to: vault', 'to: vualt') },
    });
    expect(await run(['audit'], fake.io)).toBe(78);
    expect(fake.stderr()).toMatch(/^hopgauge\.yaml:9:\d+: .*'vualt'.*'vault'\n$/);
    expect(fake.asked).toEqual([]);
  });

  it('78 with a fault of a policy, before anything is read', async () => {
    const policy = office['own.yaml'].replace('path.carriesDeclaredMtu', 'path.carriesDeclaredMto');
    const fake = fakeRun({ files: { ...office, 'own.yaml': policy } });
    expect(await run(['audit'], fake.io)).toBe(78);
    expect(fake.stderr()).toMatch(/^own\.yaml:7:\d+: .*carriesDeclaredMto/);
    expect(fake.asked).toEqual([]);
  });
});
