import { existsSync, lstatSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { makeProgram } from '../../src/cli/program.ts';
import { run } from '../../src/cli/run.ts';
import { toolVersion } from '../../src/cli/tool-version.ts';
import { parseJson } from '../../src/facts/json.ts';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import { engineAdvice } from '../../src/history/engine-advice.ts';
import { fakeRun, host, office } from '../cli/fake-io.ts';
import { type Executed, execute, must } from './execute.ts';
import { majors, nodeFolder, runningMajor } from './nodes.ts';

// What `npm pack` makes, installed in an empty folder and run there, as an operator would. No install
// script runs, so that this is also a machine without a compiler: nothing has built better-sqlite3.

const root = resolve(import.meta.dirname, '../..');
/** The first release of Node that has an SQLite of its own, which is used there. */
const ownSqliteFrom = 24;
let below = '';
let tarball = '';
/** What the sources say of the same intent and survey. */
let wanted = '';

beforeAll(async () => {
  below = await mkdtemp(join(tmpdir(), 'hopgauge-pack-'));
  const packed = await must(
    'npm',
    ['pack', '--json', '--ignore-scripts', '--pack-destination', below],
    { cwd: root },
  );
  const [{ filename } = { filename: '' }] = z
    .array(z.object({ filename: z.string() }))
    .parse(parseJson(packed));
  tarball = join(below, filename);
  for (const folder of ['all', 'few', 'home', 'work']) await mkdir(join(below, folder));
  const quick = ['install', '--ignore-scripts', '--prefer-offline', '--no-audit', '--no-fund'];
  const global = ['--global', '--prefix', join(below, 'all')];
  await must('npm', [...quick, ...global, tarball], { cwd: below });
  await must('npm', [...quick, '--omit=optional', tarball], { cwd: join(below, 'few') });
  await writeWork();
});

afterAll(() => rm(below, { recursive: true }));

/** An intent and a survey in the working folder, of two hosts that differ. */
async function writeWork(): Promise<void> {
  const nodes = { 'plot-1': host('en7', 9000), vault: host('eth4', 1500) };
  const source = fakeRun({ files: office, nodes });
  expect(await run(['survey', '--out', 'tuesday.json'], source.io)).toBe(0);
  const judged = fakeRun({ files: Object.fromEntries(source.files) });
  expect(await run(['audit', '--survey', 'tuesday.json'], judged.io)).toBe(1);
  wanted = ageless(judged.stdout());
  source.files.set('this.yaml', thisMachine);
  for (const [name, text] of source.files) await writeFile(join(below, 'work', name), text);
}

/** This machine alone, judged by nothing that depends on it. */
const thisMachine = 'intent: 1\nnodes: { desk: { access: [local] } }\npolicies: [own.yaml]\n';

/** A report without how long ago the survey was taken, which may also move the end of a line. */
function ageless(text: string): string {
  return text.replace(/\s+/g, ' ').replace(/ \(\d+ \w+ ago\)/, '');
}

/** Runs an installed hopgauge with a Node, as its first line asks the PATH for one. */
function hopgauge(program: string, node: string, ...argv: readonly string[]): Promise<Executed> {
  const env = {
    HOME: join(below, 'home'),
    XDG_STATE_HOME: join(below, 'home/state'),
    PATH: [node, process.env['PATH']].join(delimiter),
    NODE_OPTIONS: '',
  };
  return execute(program, argv, { cwd: join(below, 'work'), env });
}

describe.each(majors)('installed without scripts, on Node %i', (major) => {
  const hasOwn = major >= ownSqliteFrom;
  let node = '';
  const here = (...argv: readonly string[]) =>
    hopgauge(join(below, 'all/bin/hopgauge'), node, ...argv);

  beforeAll(async () => {
    node = await nodeFolder(major, below);
  });

  it('is run by that Node, which the package says it needs or newer', async () => {
    const version = await must(join(node, 'node'), ['--version'], { cwd: below });
    expect(version).toMatch(new RegExp(`^v${major}\\.\\d+\\.\\d+\n$`));
  });

  it('gives its version', async () => {
    expect(await here('--version')).toEqual({ code: 0, stdout: `${toolVersion()}\n`, stderr: '' });
  });

  it('gives its help, with every command', async () => {
    const { code, stdout, stderr } = await here('--help');
    expect([code, stderr]).toEqual([0, '']);
    const commands = makeProgram(fakeRun().io, () => {}).commands.map((each) => each.name());
    expect(commands.length).toBeGreaterThan(10);
    expect(commands.filter((name) => !stdout.includes(`\n  ${name} `))).toEqual([]);
  });

  it('reads this machine', async () => {
    const read = await here('survey', '--format', 'json', 'this.yaml');
    expect([read.code, read.stderr]).toEqual([0, '']);
    expect(loadSurvey(read.stdout, 'survey.json').ok).toBe(true);
    expect(read.stdout).toContain('"desk"');
  });

  it('judges a saved survey as the sources do', async () => {
    const { code, stdout, stderr } = await here('audit', '--survey', 'tuesday.json');
    expect([code, stderr]).toEqual([1, '']);
    expect(ageless(stdout)).toBe(wanted);
    expect(stdout).toContain('vault:eth4');
  });

  it(`${hasOwn ? 'keeps a history' : 'says what a history needs, before anything is read'}`, async () => {
    const store = join(below, `home/node-${major}.sqlite`);
    const kept = await here('audit', 'this.yaml', '--changes', '--store', store);
    if (hasOwn) {
      // Nothing is declared of this machine, so that nothing could be judged.
      expect([kept.code, kept.stderr]).toEqual([2, '']);
      const told = await here('history', '--intent', 'this.yaml', '--store', store);
      expect([told.code, told.stderr]).toEqual([0, '']);
      expect(told.stdout).toContain('\n1 audit:\n');
    } else {
      const words = `${store}: ${engineAdvice(join(below, 'all/lib/node_modules/hopgauge'))}\n`;
      expect(kept).toEqual({ code: 73, stdout: '', stderr: words });
      expect(existsSync(store)).toBe(false);
    }
  });
});

it('puts the man page where man looks for it', () => {
  const page = join(below, 'all/share/man/man1/hopgauge.1');
  expect(lstatSync(page).isSymbolicLink()).toBe(true);
  expect(readFileSync(page, 'utf8')).toContain('.TH HOPGAUGE 1 ');
});

describe('installed without optional packages', () => {
  const here = (...argv: readonly string[]) =>
    hopgauge(join(below, 'few/node_modules/.bin/hopgauge'), dirname(process.execPath), ...argv);

  it('has neither of them', () => {
    const installed = readdirSync(join(below, 'few/node_modules'));
    expect(installed).toContain('commander');
    expect(installed.filter((name) => /better-sqlite3|nodemailer/.test(name))).toEqual([]);
  });

  it('audits all the same', async () => {
    const { code, stdout, stderr } = await here('audit', '--survey', 'tuesday.json');
    expect([code, ageless(stdout), stderr]).toEqual([1, wanted, '']);
  });

  const hasOwn = runningMajor >= ownSqliteFrom;
  it(`asked for a history ${hasOwn ? 'looks for it by the SQLite of Node' : 'says what that needs'}`, async () => {
    const store = join(below, 'home/none.sqlite');
    const told = await here('history', '--store', store);
    const words = hasOwn
      ? 'there is no history yet; hopgauge audit --changes begins one'
      : engineAdvice('');
    expect(told).toEqual({ code: 73, stdout: '', stderr: `${store}: ${words}\n` });
  });
});
