import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { toolVersion } from '../../src/cli/tool-version.ts';
import { fakeRun, office } from './fake-io.ts';

const commands = ['audit', 'survey', 'access', 'rules', 'fit', 'schedule'] as const;

describe('usage', () => {
  const rows: readonly (readonly [argv: readonly string[], stderr: string])[] = [
    [['audti'], "hopgauge: unknown command 'audti'; did you mean audit?; see hopgauge --help\n"],
    [['xyz'], "hopgauge: unknown command 'xyz'; see hopgauge --help\n"],
    [
      ['audit', '--lest'],
      "hopgauge: unknown option '--lest'; did you mean --least?; see hopgauge audit --help\n",
    ],
    [
      ['audit', '--least', 'bad'],
      "hopgauge: option '--least <SEVERITY>' argument 'bad' is invalid. Allowed choices are error, warning, notice; see hopgauge audit --help\n",
    ],
    [
      ['audit', '--out'],
      "hopgauge: option '--out <FILE>' argument missing; see hopgauge audit --help\n",
    ],
    [
      ['survey', 'a.yaml', 'b.yaml'],
      "hopgauge: too many arguments for 'survey'. Expected 1 argument but got 2; see hopgauge survey --help\n",
    ],
    [['explain'], "hopgauge: missing required argument 'TARGET'; see hopgauge explain --help\n"],
    [
      ['fit', 'a', 'b', '--size', '9e3'],
      "hopgauge: option '--size <BYTES>' argument '9e3' is invalid. give bytes from 68 to 65535; see hopgauge fit --help\n",
    ],
    [
      ['fit', 'a', 'b', '--size', '65536'],
      "hopgauge: option '--size <BYTES>' argument '65536' is invalid. give bytes from 68 to 65535; see hopgauge fit --help\n",
    ],
    [['\u001b[2J'], "hopgauge: unknown command ' [2J'; see hopgauge --help\n"],
  ];
  for (const [argv, stderr] of rows) {
    it(`64: ${JSON.stringify(argv.join(' '))}`, async () => {
      const fake = fakeRun({ files: office });
      expect(await run(argv, fake.io)).toBe(64);
      expect(fake.stderr()).toBe(stderr);
      expect(fake.stdout()).toBe('');
      expect(fake.asked).toEqual([]);
    });
  }

  it('64 with the help on stderr where no command is given', async () => {
    const fake = fakeRun();
    expect(await run([], fake.io)).toBe(64);
    expect(fake.stdout()).toBe('');
    for (const command of commands) expect(fake.stderr()).toContain(`\n  ${command} `);
    expect(fake.stderr()).toContain('\nBegin here:\n');
  });
});

describe('help', () => {
  for (const command of commands) {
    it(`of ${command} is on stdout, with examples that name it`, async () => {
      const fake = fakeRun();
      expect(await run([command, '--help'], fake.io)).toBe(0);
      expect(fake.stderr()).toBe('');
      const [, examples = ''] = fake.stdout().split('\nExamples:\n');
      const shown = examples.trimEnd().split('\n');
      expect(shown.length).toBeGreaterThanOrEqual(2);
      expect(shown.filter((line) => !line.includes(`hopgauge ${command}`))).toEqual([]);
    });
  }

  it('of the whole says how to begin and what the exit status means', async () => {
    const fake = fakeRun();
    expect(await run(['--help'], fake.io)).toBe(0);
    expect(fake.stdout()).toContain('hopgauge survey  ');
    expect(fake.stdout()).toContain('Exit status: 0 judged and all met; 1 a rule is broken; 2');
  });

  it('gives the version of the package', async () => {
    const fake = fakeRun();
    expect(await run(['--version'], fake.io)).toBe(0);
    expect(fake.stdout()).toBe(`${toolVersion()}\n`);
    expect(toolVersion()).toMatch(/^\d+\.\d+\.\d+$/);
  });
});

describe('faults', () => {
  it('70 for a bug of ours, without a stack', async () => {
    const fake = fakeRun({
      files: office,
      io: {
        readTextFile: () => {
          throw new TypeError('x is not\u001b[2J a function');
        },
      },
    });
    expect(await run(['audit'], fake.io)).toBe(70);
    expect(fake.stderr()).toBe(
      'hopgauge: this is a fault of hopgauge: TypeError: x is not [2J a function; please report it\n',
    );
  });
});
