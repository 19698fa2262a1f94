import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import { makeKeyPair } from '../../mocks/ssh-host/make-key-pair.ts';
import { type SshHost, type SshHostOptions, startSshHost } from '../../mocks/ssh-host/ssh-host.ts';
import { answerScript } from '../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../mocks/unix-output/described-host.ts';

/** A home on loopback whose intent has nodes that are all one host or one agent. */
export interface OwnSite {
  readonly home: string;
  /** Starts a host that lets the auditor in, its key on record. */
  readonly host: (options: SshHostOptions) => Promise<SshHost>;
  /** The same with nothing wrong: the file server of the demo. */
  readonly soundHost: () => Promise<SshHost>;
  /** Writes an intent from lines under `access:` and `nodes:`; by default hopgauge.yaml. */
  readonly declare: (access: readonly string[], nodes: readonly string[], name?: string) => void;
  /** Adds lines to the SSH configuration. */
  readonly configure: (lines: readonly string[]) => void;
  /** Runs the command line in a process of its own; `limit` is put before it in a shell. */
  readonly hopgauge: (argv: readonly string[], limit?: string) => Promise<Ran>;
  readonly stop: () => Promise<void>;
}

/** What a run came to. */
export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
  /** Most memory that the process had at one time. */
  readonly peakBytes: number;
  /** Most descriptors that it had open when it was looked at. */
  readonly openMax: number;
}

const loader = import.meta.resolve('tsx');
const child = resolve('test/floods/measured.ts');

/** Makes a home with a key and no known hosts. */
export function ownSite(): OwnSite {
  const home = mkdtempSync(join(tmpdir(), 'hopgauge-floods-'));
  const folder = join(home, '.ssh');
  mkdirSync(folder, { mode: 0o700 });
  const key = makeKeyPair();
  writeFileSync(join(folder, 'id_ed25519'), key.private, { mode: 0o600 });
  const config = join(folder, 'config');
  writeFileSync(
    config,
    `UserKnownHostsFile ${join(folder, 'known_hosts')}\nIdentityFile ${join(folder, 'id_ed25519')}\n`,
  );
  const secrets = join(home, 'secrets');
  writeFileSync(secrets, 'COMMUNITY=saltmarsh\n');
  chmodSync(secrets, 0o600);
  const hosts: SshHost[] = [];
  const startHost: OwnSite['host'] = async (options) => {
    const host = await startSshHost({ login: { keys: [key.public] }, ...options });
    hosts.push(host);
    const lines = hosts.flatMap(({ hostKeyLines }) => hostKeyLines);
    writeFileSync(join(folder, 'known_hosts'), `${lines.join('\n')}\n`);
    return host;
  };
  return {
    home,
    host: startHost,
    soundHost: () => {
      const vault = saltmarshHosts['vault'] as DescribedHost;
      return startHost({ answer: (script) => ({ stdout: answerScript(vault, script) ?? '' }) });
    },
    declare: (access, nodes, name = 'hopgauge') => {
      const part = (heading: string, lines: readonly string[]) =>
        [`${heading}:`, ...lines.map((line) => `  ${line}`)].join('\n');
      const head = `intent: 1\nsite: ${name}`;
      const text = [head, part('access', access), part('nodes', nodes), 'policies: [essential]'];
      writeFileSync(join(home, `${name}.yaml`), `${text.join('\n')}\n`);
    },
    configure: (lines) => appendFileSync(config, `${lines.join('\n')}\n`),
    hopgauge: (argv, limit = 'true') => runIn(home, argv, limit),
    stop: async () => {
      await Promise.all(hosts.map((host) => host.stop()));
      rmSync(home, { recursive: true, force: true });
    },
  };
}

/** Between two looks at the descriptors of a process, in milliseconds. */
const lookEveryMs = 15;

async function runIn(home: string, argv: readonly string[], limit: string): Promise<Ran> {
  const peakFile = join(home, 'peak');
  const env = {
    PATH: process.env['PATH'] ?? '',
    HOME: home,
    HOPGAUGE_SECRETS: join(home, 'secrets'),
    PEAK_FILE: peakFile,
  };
  const program = [process.execPath, '--import', loader, child];
  const running = spawn('sh', ['-c', `${limit}; exec "$@"`, 'sh', ...program, ...argv], {
    cwd: home,
    env,
  });
  const said = { stdout: '', stderr: '' };
  running.stdout.on('data', (chunk: Buffer) => {
    said.stdout += chunk.toString('utf8');
  });
  running.stderr.on('data', (chunk: Buffer) => {
    said.stderr += chunk.toString('utf8');
  });
  let openMax = 0;
  const watch = setInterval(() => {
    openMax = Math.max(openMax, openOf(running.pid ?? 0));
  }, lookEveryMs);
  const [code] = (await once(running, 'close')) as [number | null];
  clearInterval(watch);
  const peakBytes = Number(readFileSync(peakFile, 'utf8')) * 1024;
  return { code, ...said, peakBytes, openMax };
}

function openOf(pid: number): number {
  try {
    return readdirSync(`/proc/${pid}/fd`).length;
  } catch {
    // It has ended.
    return 0;
  }
}
