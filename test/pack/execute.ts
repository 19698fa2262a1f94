import { execFile } from 'node:child_process';

/** How a program ended. */
export interface Executed {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a program to its end, or for five minutes; a status other than 0 is no exception. */
export function execute(
  program: string,
  argv: readonly string[],
  place: { readonly cwd: string; readonly env?: Readonly<Record<string, string>> },
): Promise<Executed> {
  return new Promise((done, failed) => {
    const limits = { timeout: 300_000, maxBuffer: 64 * 1024 * 1024 };
    const env = { ...process.env, ...place.env };
    execFile(program, argv, { ...limits, cwd: place.cwd, env }, (error, stdout, stderr) => {
      if (error === null) done({ code: 0, stdout, stderr });
      else if (typeof error.code === 'number') done({ code: error.code, stdout, stderr });
      else failed(error);
    });
  });
}

/** The same, where anything but a status of 0 is an exception. */
export async function must(
  program: string,
  argv: readonly string[],
  place: { readonly cwd: string; readonly env?: Readonly<Record<string, string>> },
): Promise<string> {
  const { code, stdout, stderr } = await execute(program, argv, place);
  if (code === 0) return stdout;
  throw new Error(`${program} ${argv.join(' ')}: ended with ${code}: ${stderr.slice(-2000)}`);
}
