import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseJson } from '../src/facts/json.ts';
import { prepareBrowser } from './browser/prepare.ts';
import { prepareLab } from './lab/prepare.ts';

// The whole check: format, lint, types, build, every test, the demo, the pages in Debian's Chromium
// (installed where it is missing, as the packages of the lab are) and the lab. Its last line counts
// what really ran. A check that could not run is `skipped`; under CI that is a failure.

interface Counts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

const root = resolve(import.meta.dirname, '..');
const bin = (name: string) => resolve(root, 'node_modules/.bin', name);

function run(command: string, args: readonly string[]): Promise<boolean> {
  return new Promise((done) => {
    const child = spawn(command, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] });
    child.on('error', () => done(false));
    child.on('close', (code) => done(code === 0));
  });
}

async function step(name: string, command: string, ...args: string[]): Promise<Counts> {
  console.log(`\n== ${name}`);
  const ok = await run(command, args);
  if (!ok) console.log(`== ${name}: FAILED`);
  return { passed: Number(ok), failed: Number(!ok), skipped: 0 };
}

/** Runs one vitest project; a run that executed no test, or crashed, is one failure. */
async function tests(project: string): Promise<Counts> {
  console.log(`\n== tests: ${project}`);
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-verify-'));
  const file = join(folder, 'result.json');
  const ok = await run(bin('vitest'), [
    'run',
    '--project',
    project,
    '--reporter=dot',
    '--reporter=json',
    `--outputFile.json=${file}`,
  ]);
  const counts = readCounts(file);
  for (const name of skippedNames(file)) console.log(`skipped: ${name}`);
  rmSync(folder, { recursive: true });
  const hollow = counts.passed + counts.failed === 0;
  if (ok && !hollow) return counts;
  return { ...counts, failed: Math.max(1, counts.failed) };
}

interface Reported {
  readonly testResults?: readonly {
    readonly assertionResults?: readonly { readonly status: string; readonly fullName: string }[];
  }[];
}

/** The tests that were left out: a machine that lacks a program says which comparisons it misses. */
function skippedNames(file: string): readonly string[] {
  try {
    const { testResults = [] } = parseJson(readFileSync(file, 'utf8')) as Reported;
    return testResults
      .flatMap(({ assertionResults = [] }) => assertionResults)
      .filter(({ status }) => !['passed', 'failed'].includes(status))
      .map(({ fullName }) => fullName);
  } catch {
    // A report that cannot be read is a failure, and counted as one.
    return [];
  }
}

function readCounts(file: string): Counts {
  try {
    const result = parseJson(readFileSync(file, 'utf8')) as Readonly<Record<string, unknown>>;
    const count = (key: string) => (typeof result[key] === 'number' ? result[key] : 0);
    return {
      passed: count('numPassedTests'),
      failed:
        count('numFailedTests') +
        count('numFailedTestSuites') * Number(count('numFailedTests') === 0),
      skipped: count('numPendingTests') + count('numTodoTests'),
    };
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
}

async function lab(): Promise<readonly Counts[]> {
  console.log('\n== lab: real sshd, snmpd and lldpd in network namespaces');
  // What measures comes when the others are through.
  if (prepared.ready) return [await tests('lab'), await tests('lab-alone')];
  console.log(`== lab: SKIPPED: ${prepared.why}`);
  return [{ passed: 0, failed: 0, skipped: 1 }];
}

async function browser(): Promise<Counts> {
  console.log('\n== browser: the pages in Chromium');
  const chromium = await prepareBrowser();
  if (!chromium.ready) {
    console.log(`== browser: SKIPPED: ${chromium.why}`);
    return { passed: 0, failed: 0, skipped: 1 };
  }
  console.log(`installed: ${chromium.installed.join(', ') || 'none was missing'}`);
  return tests('browser');
}

// First, since other tests compare with programs of these packages too.
console.log('== Debian packages');
const prepared = await prepareLab();
if (prepared.ready)
  console.log(`installed: ${prepared.installed.join(', ') || 'none was missing'}`);

const results: Counts[] = [];
results.push(await step('format and lint', bin('biome'), 'ci', '--error-on-warnings', '.'));
results.push(await step('types', bin('tsc'), '--noEmit'));
results.push(await step('build', 'npm', 'run', '--silent', 'build'));
results.push(await tests('unit'));
results.push(await tests('pack'));
results.push(await step('demo', 'npm', 'run', '--silent', 'demo'));
results.push(await browser());
results.push(...(await lab()));

const sum = (key: keyof Counts) => results.reduce((total, counts) => total + counts[key], 0);
const skippedUnderCi = process.env['CI'] === 'true' && sum('skipped') > 0;
if (skippedUnderCi) console.log('\nunder CI nothing may be skipped');
process.exitCode = sum('failed') > 0 || skippedUnderCi ? 1 : 0;
console.log(`\n${sum('passed')} passed, ${sum('failed')} failed, ${sum('skipped')} skipped`);
