import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { must, type Ran } from './command.ts';
import { inNs, mustInNs } from './namespaces.ts';
import { snmpSecrets } from './snmpd.ts';
import type { Topology } from './topology.ts';
import { auditorHome, setAuditorHome } from './users.ts';

export const projectRoot = fileURLToPath(new URL('../../..', import.meta.url));

export interface HopgaugeOptions {
  /** Added to, or put over, what the lab sets; a value of undefined takes a name away. */
  readonly env?: Readonly<Record<string, string | undefined>>;
  readonly home?: string;
  readonly cwd?: string;
  readonly input?: string;
  /** Typed at a terminal of its own; the outputs then come as one, as they would be seen. */
  readonly typed?: string;
  readonly timeoutMs?: number;
  /** Account number to run as; absent: root. */
  readonly uid?: number;
}

/** Where any account of the auditor's machine can read the checkout. */
const publicRoot = '/run/hopgauge';

/**
 * Lays the checkout where every account may read it: the folder that it lies in may be closed to
 * all but its owner. Seen inside the machine only, and gone with it.
 */
async function layOpen(topology: Topology): Promise<void> {
  const lay = [
    `mkdir -p ${publicRoot}/node_modules && chmod 755 ${publicRoot}`,
    `cd "$1" && cp -a package.json policies src ${publicRoot}`,
    `if [ -d dist ]; then cp -a dist ${publicRoot}; fi`,
    `mountpoint -q ${publicRoot}/node_modules || mount --bind node_modules ${publicRoot}/node_modules`,
    `chmod -R a+rX ${publicRoot}/package.json ${publicRoot}/policies ${publicRoot}/src`,
    `if [ -d ${publicRoot}/dist ]; then chmod -R a+rX ${publicRoot}/dist; fi`,
  ];
  await mustInNs(topology.auditor, ['sh', '-ec', lay.join('\n'), 'sh', projectRoot]);
}

/** Runs the real command line inside the auditor's machine. */
export async function hopgauge(
  topology: Topology,
  args: readonly string[],
  options: HopgaugeOptions = {},
): Promise<Ran> {
  const home = options.home ?? auditorHome(topology);
  // The programs of OpenSSH take the home of the account file, whatever HOME says.
  setAuditorHome(topology, home);
  const env = {
    ...{ PATH: process.env['PATH'], LANG: 'C.UTF-8', NO_COLOR: '1', HOME: home },
    ...snmpSecrets,
    ...options.env,
  };
  const kept = Object.entries(env).flatMap(([name, value]) =>
    value === undefined ? [] : [[name, value] as const],
  );
  const id = String(options.uid ?? 0);
  const as =
    options.uid === undefined ? [] : ['setpriv', '--reuid', id, '--regid', id, '--clear-groups'];
  if (options.uid !== undefined) await layOpen(topology);
  const root = options.uid === undefined ? projectRoot : publicRoot;
  const words = [...as, ...commandLine(root), ...args];
  // `script` gives its command a terminal, and takes the command as one text for a shell.
  const quoted = words.map((word) => `'${word.replaceAll("'", "'\\''")}'`).join(' ');
  const argv = options.typed === undefined ? words : ['script', '-qec', quoted, '/dev/null'];
  const input = options.typed === undefined ? options.input : `${options.typed}\n`;
  return inNs(topology.auditor, argv, {
    env: Object.fromEntries(kept),
    cwd: options.cwd ?? topology.directory,
    ...(input !== undefined && { input }),
    timeoutMs: options.timeoutMs ?? 60_000,
  });
}

/** The built program when it is newer than its source, else the source through the loader. */
export function commandLine(root: string = projectRoot): readonly string[] {
  const program = join(root, 'dist/cli/main.js');
  const built = join(projectRoot, 'dist/cli/main.js');
  const source = join(projectRoot, 'src');
  if (existsSync(built) && statSync(built).mtimeMs > newest(source)) {
    return [process.execPath, program];
  }
  const loader = join(root, 'node_modules/tsx/dist/loader.mjs');
  return [process.execPath, '--import', `file://${loader}`, join(root, 'src/cli/main.ts')];
}

function newest(directory: string): number {
  const files = readdirSync(directory, { recursive: true, withFileTypes: true });
  const times = files
    .filter((file) => file.isFile())
    .map((file) => statSync(join(file.parentPath, file.name)).mtimeMs);
  return Math.max(0, ...times);
}

/** A new, empty home for one case, with the keys of the usual one unless `bare`. */
export async function newHome(
  topology: Topology,
  name: string,
  { bare = false } = {},
): Promise<string> {
  const home = join(topology.directory, `home-${name}`);
  mkdirSync(home, { mode: 0o700 });
  if (!bare) await must(['cp', '-a', join(auditorHome(topology), '.ssh'), home]);
  return home;
}

/** Writes a file into the run's directory and gives its path. */
export function writeRunFile(topology: Topology, name: string, text: string): string {
  const path = join(topology.directory, name);
  writeFileSync(path, text);
  return path;
}
