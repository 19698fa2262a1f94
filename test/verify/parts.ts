import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type Counts, readCounts, skippedNames } from './counts.ts';

/** Takes what a part prints. */
export type Say = (text: string) => void;

/** A part of the whole check. */
export interface Part {
  readonly name: string;
  readonly run: (say: Say) => Promise<Counts>;
}

/** A program that runs longer hangs, in milliseconds: the lab takes minutes. */
const hangMs = 90 * 60_000;
/** How long what a program left behind may hold its output after its end, in milliseconds. */
const lingerMs = 10_000;

const root = resolve(import.meta.dirname, '../..');
const bin = (name: string) => resolve(root, 'node_modules/.bin', name);

/** A program of an installed package that has to end with 0. */
export function tool(name: string, program: string, ...args: string[]): Part {
  return command(name, bin(program), ...args);
}

/** A script of package.json that has to end with 0. */
export function script(name: string): Part {
  return command(name, 'npm', 'run', '--silent', name);
}

function command(name: string, program: string, ...args: string[]): Part {
  return {
    name,
    run: async (say) => {
      const ok = await ran(say, program, args);
      return { passed: Number(ok), failed: Number(!ok), skipped: 0 };
    },
  };
}

/** Projects of vitest, in one run; a run that executed no test, or crashed, is one failure at least. */
export function tests(...projects: readonly string[]): Part {
  const chosen = projects.flatMap((project) => ['--project', project]);
  return {
    name: `tests: ${projects.join(', ')}`,
    run: async (say) => {
      const folder = mkdtempSync(join(tmpdir(), 'hopgauge-verify-'));
      const file = join(folder, 'result.json');
      const reports = ['--reporter=dot', '--reporter=json', `--outputFile.json=${file}`];
      const ok = await ran(say, bin('vitest'), ['run', ...chosen, ...reports]);
      const counts = readCounts(file);
      for (const name of skippedNames(file)) say(`skipped: ${name}\n`);
      rmSync(folder, { recursive: true });
      return ok ? counts : { ...counts, failed: Math.max(1, counts.failed) };
    },
  };
}

/** What needs something of the machine: counted as skipped where that is not there. */
export function where(
  ready: () => { ready: true } | { ready: false; why: string },
  part: Part,
): Part {
  return {
    name: part.name,
    run: async (say) => {
      const machine = ready();
      if (machine.ready) return part.run(say);
      say(`SKIPPED: ${machine.why}\n`);
      return { passed: 0, failed: 0, skipped: 1 };
    },
  };
}

/**
 * Runs parts at the same time, as many as there are. What one prints is shown whole when it has
 * ended; what a part alone prints, as it comes.
 */
export async function together(...parts: readonly Part[]): Promise<readonly Counts[]> {
  return Promise.all(parts.map((part) => (parts.length === 1 ? live(part) : kept(part))));
}

/** A part that throws has failed; the others go on, and the last line counts them all. */
async function counted(run: Part['run'], say: Say): Promise<Counts> {
  try {
    return await run(say);
  } catch (error) {
    say(`${error instanceof Error ? error.stack : String(error)}\n`);
    return { passed: 0, failed: 1, skipped: 0 };
  }
}

async function live({ name, run }: Part): Promise<Counts> {
  process.stdout.write(`\n== ${name}\n`);
  const counts = await counted(run, (text) => process.stdout.write(text));
  if (counts.failed > 0) process.stdout.write(`== ${name}: FAILED\n`);
  return counts;
}

async function kept({ name, run }: Part): Promise<Counts> {
  const said: string[] = [];
  const counts = await counted(run, (text) => said.push(text));
  const ended = counts.failed > 0 ? `== ${name}: FAILED\n` : '';
  process.stdout.write(`\n== ${name}\n${said.join('')}${ended}`);
  return counts;
}

function ran(say: Say, program: string, args: readonly string[]): Promise<boolean> {
  return new Promise((done) => {
    const child = spawn(program, args, {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
      timeout: hangMs,
    });
    let lingering: NodeJS.Timeout | undefined;
    // Its output is closed by the last that holds it, which may be a process that it left behind.
    child.on('exit', () => {
      lingering = setTimeout(() => {
        say(`${program}: has ended, and something that it started has not; look for it\n`);
        for (const stream of [child.stdout, child.stderr]) stream.destroy();
      }, lingerMs);
    });
    for (const stream of [child.stdout, child.stderr]) stream.setEncoding('utf8').on('data', say);
    child.on('error', (error) => {
      say(`${program}: ${error.message}\n`);
      done(false);
    });
    child.on('close', (code, signal) => {
      clearTimeout(lingering);
      if (signal !== null) say(`${program}: ended by ${signal}\n`);
      done(code === 0);
    });
  });
}
