import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

const program = fileURLToPath(new URL('./night-writer.ts', import.meta.url));
const loader = import.meta.resolve('tsx');

/** The words that run the writer of nights on a store. */
export function writerOn(file: string): readonly [string, ...string[]] {
  return [process.execPath, '--import', loader, program, file];
}

/** Writers whose opening of the store is cut short, one of so many. */
const earlyEvery = 10;

/**
 * Lets a process write nights to a store and ends it by SIGKILL at a moment of chance: some hundredths of
 * a second after it opened the store, or, one time in ten, while it opens it. Gives what it said.
 */
export async function killedWriter(file: string, random: () => number): Promise<string> {
  const [node, ...args] = writerOn(file);
  const child = spawn(node, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  let said = '';
  const opened = new Promise<void>((resolve) => {
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString('utf8');
      resolve();
    });
    child.on('exit', () => resolve());
  });
  const early = random() < 1 / earlyEvery;
  await Promise.race([opened, ...(early ? [pause(startMs(random))] : [])]);
  await pause(random() * 60);
  await ended(child);
  return said;
}

/** Around the time that the program takes to load and open the store. */
function startMs(random: () => number): number {
  return 200 + random() * 600;
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const exit = once(child, 'exit');
  child.kill('SIGKILL');
  await exit;
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
