import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type SshHost,
  type SshHostOptions,
  startSshHost,
} from '../../../mocks/ssh-host/ssh-host.ts';
import { makeSecret } from '../../../src/collect/secrets/secret.ts';
import { makeSshDeps, type SshRunOptions } from '../../../src/collect/ssh/make-ssh-deps.ts';
import type { SshDeps } from '../../../src/collect/ssh/ssh-deps.ts';
import { sshRunner } from '../../../src/collect/ssh/ssh-runner.ts';
import type { SshTarget } from '../../../src/collect/ssh/ssh-target.ts';
import {
  defaultReadLimits,
  type ReadLimits,
  type ScriptOutcome,
} from '../../../src/collect/types.ts';
import type { SshAccess } from '../../../src/intent/types.ts';

/** Limits short enough for a test that reaches one of them. */
export const shortLimits: ReadLimits = { ...defaultReadLimits, connectMs: 400, wholeMs: 900 };

/** The password that must never be seen anywhere. */
export const canary = 'canary-3f9a1c-tidal';

export interface SshWorld {
  readonly home: string;
  readonly knownHosts: string;
  readonly host: (options?: SshHostOptions) => Promise<SshHost>;
  /** Records the keys of a host, as enrolling would. */
  readonly trust: (host: SshHost) => void;
  readonly deps: (options?: Partial<SshRunOptions>) => SshDeps;
  /** Makes a key with ssh-keygen and gives the path of its private half. */
  readonly key: (name: string, options?: KeyOptions) => string;
  readonly publicKey: (path: string) => string;
  readonly clean: () => Promise<void>;
}

export interface KeyOptions {
  readonly type?: 'ed25519' | 'ecdsa' | 'rsa';
  readonly passphrase?: string;
  readonly format?: 'PEM';
}

/** A home folder of its own, with hosts and keys, for one test. */
export function makeWorld(): SshWorld {
  const home = mkdtempSync(join(tmpdir(), 'hopgauge-ssh-'));
  const knownHosts = join(home, '.ssh', 'known_hosts');
  mkdirSync(join(home, '.ssh'), { mode: 0o700 });
  writeFileSync(knownHosts, '');
  const hosts: SshHost[] = [];
  const made: SshDeps[] = [];
  return {
    home,
    knownHosts,
    host: async (options) => {
      const host = await startSshHost({ login: { password: canary }, ...options });
      hosts.push(host);
      return host;
    },
    trust: (host) => {
      const before = readFileSync(knownHosts, 'utf8');
      writeFileSync(knownHosts, `${before}${host.hostKeyLines.join('\n')}\n`);
    },
    deps: (options) => {
      const deps = {
        ...makeSshDeps({
          own: { home, userName: 'auditor' },
          env: {},
          findSecret: async (name) => (name === 'PASSWORD' ? makeSecret(canary) : undefined),
          settings: { openSsh: false, configFiles: [join(home, '.ssh', 'config')] },
          knownHosts: [knownHosts],
          ...options,
        }),
        pause: async () => undefined,
      };
      made.push(deps);
      return deps;
    },
    key: (name, { type = 'ed25519', passphrase = '', format } = {}) => {
      const path = join(home, '.ssh', name);
      const form = format === undefined ? [] : ['-m', format];
      const bits = type === 'rsa' ? ['-b', '2048'] : [];
      const rounds = passphrase !== '' && format === undefined ? ['-a', '1'] : [];
      const args = ['-q', '-t', type, ...bits, ...form, ...rounds, '-N', passphrase, '-C', name];
      execFileSync('ssh-keygen', [...args, '-f', path]);
      return path;
    },
    publicKey: (path) => readFileSync(`${path}.pub`, 'utf8').trim(),
    clean: async () => {
      for (const deps of made) deps.jumps.close();
      await Promise.all(hosts.map((host) => host.stop()));
      rmSync(home, { recursive: true, force: true });
    },
  };
}

/** A target at a simulated host, by password unless the access says otherwise. */
export function targetAt(
  host: SshHost,
  access: Partial<SshAccess> = { password: 'PASSWORD' },
): SshTarget {
  return {
    at: host.address,
    atPort: host.port,
    access: { via: 'ssh', name: 'hosts', user: 'auditor', ...access },
  };
}

/** Runs one script with limits that no healthy host reaches. */
export function run(
  target: SshTarget,
  deps: SshDeps,
  { limits = defaultReadLimits, script = 'echo hello\n' } = {},
): Promise<ScriptOutcome> {
  return sshRunner(target, deps)(script, limits, new AbortController().signal);
}

/** The trouble of an outcome, which must be one. */
export function troubleIn(outcome: ScriptOutcome) {
  if (outcome.ok) throw new Error('no trouble, but output');
  return outcome.trouble;
}

/** The text of an outcome, which must be output. */
export function textIn(outcome: ScriptOutcome): string {
  if (!outcome.ok) throw new Error(`trouble: ${JSON.stringify(outcome.trouble)}`);
  return Buffer.from(outcome.output).toString('utf8');
}
