import { spawn } from 'node:child_process';

/** How a command ended. `code` is null when a signal ended it. */
export interface Ran {
  readonly stdout: string;
  readonly stderr: string;
  readonly code: number | null;
}

export interface RunOptions {
  readonly input?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly cwd?: string;
  /** The command is ended by SIGKILL after this; default 30 s. */
  readonly timeoutMs?: number;
}

const outputBytesMax = 16 * 1024 * 1024;

/** Runs a command to its end, bounded in time and output. Rejects only if it cannot be started. */
export function run(argv: readonly string[], options: RunOptions = {}): Promise<Ran> {
  const [file = '', ...rest] = argv;
  return new Promise((resolve, reject) => {
    const child = spawn(file, rest, {
      cwd: options.cwd,
      env: options.env === undefined ? process.env : { ...options.env },
      stdio: ['pipe', 'pipe', 'pipe'],
      timeout: options.timeoutMs ?? 30_000,
      killSignal: 'SIGKILL',
    });
    const chunks: [Buffer[], Buffer[]] = [[], []];
    let bytes = 0;
    const keep = (into: 0 | 1) => (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > outputBytesMax) child.kill('SIGKILL');
      else chunks[into].push(chunk);
    };
    child.stdout.on('data', keep(0));
    child.stderr.on('data', keep(1));
    child.on('error', reject);
    child.on('close', (code) => {
      const [stdout, stderr] = chunks.map((parts) => Buffer.concat(parts).toString('utf8'));
      resolve({ stdout: stdout ?? '', stderr: stderr ?? '', code });
    });
    // A command that ends without reading its input closes the pipe; that is not a fault.
    child.stdin.on('error', () => undefined);
    child.stdin.end(options.input ?? '');
  });
}

/** As `run`, and rejects with the command's own words unless it ended with status 0. */
export async function must(argv: readonly string[], options: RunOptions = {}): Promise<string> {
  const ran = await run(argv, options);
  if (ran.code === 0) return ran.stdout;
  const words = `${ran.stderr}${ran.stdout}`.trim();
  throw new Error(`lab: ${argv.join(' ')}: status ${ran.code}: ${words}\n${options.input ?? ''}`);
}

export interface Patience {
  readonly limitMs?: number;
  readonly everyMs?: number;
}

/** Asks `holds` again and again until it is true; rejects with `what` once the limit is over. */
export async function until(
  what: string,
  holds: () => Promise<boolean>,
  { limitMs = 20_000, everyMs = 60 }: Patience = {},
): Promise<void> {
  const end = performance.now() + limitMs;
  for (;;) {
    if (await holds()) return;
    if (performance.now() > end) throw new Error(`lab: ${what}: not within ${limitMs} ms`);
    await new Promise((resolve) => setTimeout(resolve, everyMs));
  }
}
