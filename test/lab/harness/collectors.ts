import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeKeyPair } from '../../../mocks/ssh-host/make-key-pair.ts';
import { type SshHost, startSshHost } from '../../../mocks/ssh-host/ssh-host.ts';
import { answerScript } from '../../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../../mocks/unix-output/described-host.ts';
import { projectRoot } from './cli.ts';
import { must, type Ran, run, until } from './command.ts';

/** Hosts of one site on loopback that count who is logged in, and a home that may log in to them. */
export interface Hosts {
  readonly home: string;
  readonly hosts: ReadonlyMap<string, SshHost>;
  readonly stop: () => Promise<void>;
}

function described(name: string): DescribedHost {
  return {
    facts: {
      systemKind: 'linux',
      systemName: name,
      systemText: 'Linux 6.1.0 x86_64',
      uptimeSeconds: 1000,
    },
    ports: [
      {
        name: 'eth0',
        kind: 'physical',
        macAddress: '02:00:5e:00:00:05',
        adminUp: true,
        operUp: true,
        mtuBytes: 9000,
        speedMbps: 10_000,
        duplex: 'full',
        addresses: ['198.18.20.11/24'],
      },
    ],
  };
}

/** Starts `names` as hosts whose answers take `delayMs`. */
export async function startHosts(
  names: readonly string[],
  { home, delayMs }: { readonly home: string; readonly delayMs: number },
): Promise<Hosts> {
  const key = makeKeyPair();
  const hosts = new Map<string, SshHost>();
  for (const name of names) {
    const answer = (script: string) => ({
      stdout: answerScript(described(name), script) ?? '',
      delayMs,
    });
    hosts.set(name, await startSshHost({ login: { user: 'auditor', keys: [key.public] }, answer }));
  }
  mkdirSync(join(home, '.ssh'), { recursive: true, mode: 0o700 });
  writeFileSync(join(home, '.ssh/id_ed25519'), key.private, { mode: 0o600 });
  const known = [...hosts.values()].flatMap(({ hostKeyLines }) => hostKeyLines);
  writeFileSync(join(home, '.ssh/known_hosts'), `${known.join('\n')}\n`, { mode: 0o600 });
  return {
    home,
    hosts,
    stop: async () => {
      await Promise.all([...hosts.values()].map((host) => host.stop()));
    },
  };
}

/** An intent of these hosts; `reachOf` says where each is reached from. */
export function intentOf(
  site: string,
  { hosts }: Hosts,
  reachOf: (name: string) => string | undefined = () => undefined,
): string {
  const [one = '', two = ''] = hosts.keys();
  const nodes = [...hosts].map(([name, { port }]) => {
    const reach = reachOf(name);
    return `  ${name}: { at: "127.0.0.1:${port}", access: [hosts]${reach === undefined ? '' : `, reach: ${reach}`} }`;
  });
  return [
    'intent: 1',
    `site: ${site}`,
    'access: { hosts: { ssh: { user: auditor } } }',
    'nodes:',
    ...nodes,
    'segments: { storage: { mtu: 9000 } }',
    `links: [{ ends: ["${one}:eth0", "${two}:eth0"], untagged: storage }]`,
    `paths: { plotting: { from: ${one}, to: ${two}, over: storage } }`,
    'policies: [essential]',
    '',
  ].join('\n');
}

/**
 * Compiles the command line once, so that the many processes of a test start in the time that a
 * user's do; gives the program. It is the real one with a home folder of a test, its first word:
 * OpenSSH is left out, since it takes the home of the account file, whatever it is told.
 */
export async function compileProgram(directory: string): Promise<string> {
  const tsc = join(projectRoot, 'node_modules/.bin/tsc');
  const dist = join(directory, 'dist');
  await must([tsc, '-p', join(projectRoot, 'tsconfig.build.json'), '--outDir', dist], {
    timeoutMs: 120_000,
  });
  for (const name of ['node_modules', 'policies', 'package.json'])
    symlinkSync(join(projectRoot, name), join(directory, name));
  const program = join(directory, 'own-home.js');
  writeFileSync(program, ownHome);
  return program;
}

const ownHome = `
import { join } from 'node:path';
import { processIo } from './dist/cli/process-io.js';
import { run } from './dist/cli/run.js';
const [home = '', ...argv] = process.argv.slice(2);
const stop = new AbortController();
process.once('SIGTERM', () => stop.abort());
process.exitCode = await run(argv, {
  ...processIo(stop.signal, () => stop.abort()),
  own: { home, userName: 'auditor' },
  sshSettings: { configFiles: [join(home, '.ssh/config')], openSsh: false },
});
`;

/** Where a command of a test runs. */
export interface Place {
  /** What `compileProgram` gave. */
  readonly program: string;
  readonly home: string;
  readonly cwd: string;
  readonly password: string;
}

function words({ program, home }: Place, argv: readonly string[]): readonly [string, ...string[]] {
  return [process.execPath, program, home, ...argv];
}

function envOf({ home, password }: Place): Record<string, string> {
  return { PATH: process.env['PATH'] ?? '', HOME: home, NO_COLOR: '1', PGPASSWORD: password };
}

/** Runs the command line to its end. */
export function hopgaugeIn(place: Place, argv: readonly string[]): Promise<Ran> {
  const [file, ...rest] = words(place, argv);
  return run([file, ...rest], { cwd: place.cwd, env: envOf(place), timeoutMs: 100_000 });
}

/** A command that runs. */
export interface Running {
  readonly said: () => string;
  readonly ended: () => boolean;
  /** SIGKILL, as a machine that fails; SIGTERM, as a service that is stopped. Gives its status. */
  readonly end: (signal: 'SIGKILL' | 'SIGTERM') => Promise<number | null>;
}

/** Starts the command line, to be ended by the test. */
export function startHopgauge(place: Place, argv: readonly string[]): Running {
  const [file, ...rest] = words(place, argv);
  const child = spawn(file, rest, {
    cwd: place.cwd,
    env: envOf(place),
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (chunk: Buffer) => {
    said += chunk.toString('utf8');
  });
  const ended = () => child.exitCode !== null || child.signalCode !== null;
  return {
    said: () => said,
    ended,
    end: async (signal) => {
      if (ended()) return child.exitCode;
      const exit = once(child, 'exit');
      child.kill(signal);
      await exit;
      return child.exitCode;
    },
  };
}

/** Starts a collector and waits until it looks for work. */
export async function startCollector(place: Place, argv: readonly string[]): Promise<Running> {
  const collector = startHopgauge(place, ['collector', ...argv]);
  await until(
    'a collector that runs',
    async () => {
      if (collector.ended()) throw new Error(`lab: the collector ended: ${collector.said()}`);
      return collector.said().includes(' takes ');
    },
    { limitMs: 60_000 },
  );
  return collector;
}

/** Makes a folder for one test. */
export async function folderIn(directory: string, name: string): Promise<string> {
  const folder = join(directory, name);
  await must(['mkdir', '-p', '-m', '700', folder]);
  return folder;
}
