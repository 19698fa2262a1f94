import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { tryDoor } from '../../src/collect/ssh/door.ts';
import { makeSshDeps } from '../../src/collect/ssh/make-ssh-deps.ts';
import { sshRunner } from '../../src/collect/ssh/ssh-runner.ts';
import type { SshTarget } from '../../src/collect/ssh/ssh-target.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import type { SshAccess } from '../../src/intent/types.ts';
import { freePort, untilListening } from '../tools/loopback-port.ts';
import { until } from './harness/command.ts';

// A real sshd on loopback that lets in whoever has a certificate of its authority, and nobody else;
// its own key is vouched for by a second authority alone. Needs root, as sshd does.

let folder: string;
let port: number;
let stop: () => void = () => {};
const at = (name: string) => join(folder, name);
const keygen = (...args: string[]) => execFileSync('ssh-keygen', ['-q', ...args]);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'hopgauge-system-ssh-'));
  for (const name of ['user-ca', 'host-ca', 'host', 'id', 'stranger']) {
    keygen('-t', 'ed25519', '-N', '', '-C', name, '-f', at(name));
  }
  keygen(
    '-s',
    at('user-ca'),
    '-I',
    'auditor',
    '-n',
    userInfo().username,
    '-V',
    '+1h',
    at('id.pub'),
  );
  keygen('-s', at('host-ca'), '-I', 'vault', '-h', '-n', '127.0.0.1', '-V', '+1h', at('host.pub'));
  port = await freePort();
  const config = [
    `Port ${port}`,
    'ListenAddress 127.0.0.1',
    `HostKey ${at('host')}`,
    `HostCertificate ${at('host-cert.pub')}`,
    `TrustedUserCAKeys ${at('user-ca.pub')}`,
    'AuthorizedKeysFile none',
    'PermitRootLogin prohibit-password',
    'PasswordAuthentication no',
    'KbdInteractiveAuthentication no',
    'UsePAM no',
    'StrictModes no',
    `PidFile ${at('pid')}`,
  ];
  writeFileSync(at('sshd_config'), `${config.join('\n')}\n`);
  mkdirSync('/run/sshd', { recursive: true, mode: 0o755 });
  const sshd = spawn('/usr/sbin/sshd', ['-D', '-e', '-f', at('sshd_config')], { stdio: 'ignore' });
  stop = () => sshd.kill();
  writeConfig(`@cert-authority 127.0.0.1,[127.0.0.1]:${port} ${publicKey('host-ca')}`);
  await untilListening(port, () => sshd.exitCode !== null);
});
afterAll(() => {
  stop();
  rmSync(folder, { recursive: true, force: true });
});

const publicKey = (name: string) =>
  readFileSync(at(`${name}.pub`), 'utf8')
    .split(' ')
    .slice(0, 2)
    .join(' ');

function writeConfig(knownHosts: string): void {
  writeFileSync(at('known_hosts'), `${knownHosts}\n`);
  const lines = [
    'Host *',
    `  UserKnownHostsFile ${at('known_hosts')}`,
    '  GlobalKnownHostsFile /dev/null',
    '  IdentitiesOnly yes',
    '  IdentityAgent none',
    // Overruled, whatever the operator has there.
    '  StrictHostKeyChecking no',
    '  LocalCommand touch local-command-ran',
    '  PermitLocalCommand yes',
  ];
  writeFileSync(at('config'), `${lines.join('\n')}\n`);
}

function deps() {
  return makeSshDeps({
    own: { home: folder, userName: userInfo().username },
    env: { PATH: process.env['PATH'], HOME: folder },
    findSecret: async () => undefined,
    settings: { configFiles: [at('config')], openSsh: false },
  });
}

const target = (access: Partial<SshAccess> = {}, more: Partial<SshTarget> = {}): SshTarget => ({
  at: '127.0.0.1',
  atPort: port,
  access: {
    ...{ via: 'ssh', name: 'hosts', through: 'system', user: userInfo().username, key: at('id') },
    ...access,
  },
  ...more,
});
const limits = { ...defaultReadLimits, connectMs: 5000, wholeMs: 15_000 };
const signal = new AbortController().signal;

describe('the ssh of the system', () => {
  it('logs in with a user certificate where the host has one too, and runs sh -s alone', async () => {
    const script = `tr '\\0' ' ' </proc/$$/cmdline; test -t 0 || echo no terminal\n`;
    const outcome = await sshRunner(target(), deps())(script, limits, signal);
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    expect(Buffer.from(outcome.output).toString()).toBe('sh -s no terminal\n');
    expect(outcome.exitCode).toBe(0);
    expect(outcome.hostKey).toBeUndefined();
  });

  it('opens every step of the door', async () => {
    const report = await tryDoor(target(), deps(), { limits, signal });
    expect(report.steps.map(({ state }) => state)).toEqual(['ok', 'ok', 'ok', 'ok', 'ok']);
  });

  it('is not let in without the certificate: one attempt, three in a run', async () => {
    const shared = deps();
    const stranger = target({ key: at('stranger') });
    for (let attempt = 0; attempt < 3; attempt += 1) {
      const report = await tryDoor(stranger, shared, { limits, signal });
      expect(report.steps.find(({ state }) => state === 'failed')).toMatchObject({
        step: 'login',
        trouble: { kind: 'login-refused' },
      });
    }
    const spent = await sshRunner(stranger, shared)('echo\n', limits, signal);
    expect(spent).toMatchObject({ ok: false, trouble: { kind: 'credential-spent' } });
  });

  it('trusts no key that nobody vouches for, whatever the configuration says', async () => {
    writeConfig('# nobody');
    const unknown = await tryDoor(target(), deps(), { limits, signal });
    writeConfig(`[127.0.0.1]:${port} ${publicKey('stranger')}`);
    const changed = await tryDoor(target(), deps(), { limits, signal });
    writeConfig(
      `@cert-authority [127.0.0.1]:${port} ${publicKey('host-ca')}\n@revoked * ${publicKey('host')}`,
    );
    const revoked = await tryDoor(target(), deps(), { limits, signal });
    writeConfig(`@cert-authority 127.0.0.1,[127.0.0.1]:${port} ${publicKey('host-ca')}`);
    const failed = [unknown, changed, revoked].map(
      ({ steps }) => steps.find(({ state }) => state === 'failed') as { trouble: { kind: string } },
    );
    expect(failed.map(({ trouble }) => trouble.kind)).toEqual([
      'host-key-unknown',
      'host-key-changed',
      'host-key-revoked',
    ]);
  });

  it('our own client says that it reads no certificate, and what does', async () => {
    const { through: _, ...plain } = target().access;
    const report = await tryDoor({ ...target(), access: plain }, deps(), { limits, signal });
    expect(report.steps.find(({ state }) => state === 'failed')).toMatchObject({
      step: 'host key',
      trouble: {
        kind: 'host-key-unknown',
        seen: expect.stringContaining('known_hosts line 1 trusts certificates for it'),
        remedy: expect.stringContaining('through: system'),
      },
    });
  });

  it('is held to no fingerprint of the intent, and says so before it connects', async () => {
    const outcome = await sshRunner(target({}, { hostKey: 'SHA256:x' }), deps())(
      '',
      limits,
      signal,
    );
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'host-key-unknown' } });
  });

  it('ends at its limits of size and time, and leaves no process behind', async () => {
    const flood = await sshRunner(target(), deps())(
      'while :; do echo flood; done\n',
      { ...limits, outputBytesMax: 100_000 },
      signal,
    );
    expect(flood).toMatchObject({ ok: false, trouble: { kind: 'overlong' } });
    const hang = await sshRunner(target(), deps())(
      'echo here; sleep 60\n',
      { ...limits, wholeMs: 3000 },
      signal,
    );
    expect(hang).toMatchObject({ ok: false, trouble: { kind: 'truncated' } });
    const left = () =>
      execFileSync('ps', ['-eo', 'args'], { encoding: 'utf8' })
        .split('\n')
        .filter((line) => line.includes(at('id')));
    // What was killed takes a moment to go on a busy machine; its sleep would take a minute.
    await until('end of ssh', async () => left().length === 0, { limitMs: 10_000 });
    expect(left()).toEqual([]);
  });
});
