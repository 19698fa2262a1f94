import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Locate, Secret } from '../../src/collect/types.ts';
import { type RunningAgent, startAgent } from '../snmp-agent/start-agent.ts';
import { makeKeyPair } from '../ssh-host/make-key-pair.ts';
import { type SshHost, startSshHost } from '../ssh-host/ssh-host.ts';
import { answerScript } from '../unix-output/answer-script.ts';
import { saltmarshHosts } from './hosts.ts';
import { loftSwitch, quaySwitch } from './switches.ts';

const user = 'auditor';
/** The secrets that the intent names. They open nothing but the agents of this process. */
const secrets: Readonly<Record<string, string>> = {
  SALTMARSH_AUTH: 'reeds-at-low-tide',
  SALTMARSH_PRIV: 'samphire-in-june',
};

/** The running site: everything that a command needs to reach it instead of a network. */
export interface RunningSite {
  /** Home folder with a key and the known hosts; removed by `stop`. */
  readonly home: string;
  readonly locate: Locate;
  /** Addresses on the storage segment, as the office's own name service would give them. */
  readonly resolve: (name: string) => Promise<string | undefined>;
  readonly findSecret: (name: string) => Promise<Secret | undefined>;
  stop(): Promise<void>;
}

/** Starts the hosts and switches of the Saltmarsh survey office on loopback. */
export async function startSaltmarsh(): Promise<RunningSite> {
  const key = makeKeyPair();
  const hosts = new Map<string, SshHost>();
  for (const [name, host] of Object.entries(saltmarshHosts)) {
    const answer = (script: string) => ({ stdout: answerScript(host, script) ?? '' });
    hosts.set(name, await startSshHost({ login: { user, keys: [key.public] }, answer }));
  }
  const agents = new Map<string, RunningAgent>();
  for (const described of [quaySwitch, loftSwitch]) {
    agents.set(described.sysName, await startAgent({ switch: described, users: [agentUser] }));
  }
  const home = await makeHome(key.private, hosts);
  return {
    home,
    locate: async (at, via) => {
      const name = officeName(at);
      const found = via === 'ssh' ? hosts.get(name) : agents.get(name);
      if (found === undefined) throw new Error(`the Saltmarsh office has no ${name}`);
      return { address: found.address, port: found.port };
    },
    resolve: async (name) => storageAddresses[officeName(name)],
    findSecret: async (name) => {
      const text = secrets[name];
      return text === undefined ? undefined : { reveal: () => text };
    },
    stop: async () => {
      await Promise.all([...hosts.values(), ...agents.values()].map((one) => one.stop()));
      await rm(home, { recursive: true });
    },
  };
}

const storageAddresses: Readonly<Record<string, string>> = {
  'plot-1': '198.18.20.11',
  'plot-2': '198.18.20.12',
  vault: '198.18.20.2',
  gate: '198.18.20.1',
};

function officeName(at: string): string {
  return at.replace(/\.office\.example$/, '');
}

const agentUser = {
  name: user,
  auth: { protocol: 'sha256', secret: secrets['SALTMARSH_AUTH'] ?? '' },
  privacy: { protocol: 'aes128', secret: secrets['SALTMARSH_PRIV'] ?? '' },
} as const;

async function makeHome(key: string, hosts: ReadonlyMap<string, SshHost>): Promise<string> {
  const home = await mkdtemp(join(tmpdir(), 'saltmarsh-'));
  const folder = join(home, '.ssh');
  await mkdir(folder, { mode: 0o700 });
  await writeFile(join(folder, 'id_ed25519'), key, { mode: 0o600 });
  await chmod(join(folder, 'id_ed25519'), 0o600);
  const known = [...hosts.values()].flatMap((host) => host.hostKeyLines);
  await writeFile(join(folder, 'known_hosts'), `${known.join('\n')}\n`, { mode: 0o600 });
  return home;
}
