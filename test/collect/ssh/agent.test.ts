import { execFileSync, spawn } from 'node:child_process';
import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { HostLogin } from '../../../mocks/ssh-host/host-login.ts';
import { makeWorld, run, type SshWorld, targetAt, textIn } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

async function hostWith(login: HostLogin) {
  const host = await world.host({ login, answer: () => ({ stdout: 'in\n' }) });
  world.trust(host);
  return host;
}

const haveAgent = existsSync('/usr/bin/ssh-agent');
if (!haveAgent)
  console.warn('skipped: no ssh-agent on this machine, logins by agent are not tested');

describe.skipIf(!haveAgent)('login by a real ssh-agent', () => {
  async function agentWith(...keys: readonly string[]) {
    const socket = join(world.home, 'agent');
    const agent = spawn('ssh-agent', ['-D', '-a', socket], { stdio: 'ignore' });
    for (let turn = 0; turn < 500 && !existsSync(socket); turn += 1) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    const env = { ...process.env, SSH_AUTH_SOCK: socket };
    for (const key of keys) execFileSync('ssh-add', ['-q', key], { env, stdio: 'ignore' });
    return { env: { SSH_AUTH_SOCK: socket }, stop: () => agent.kill('SIGTERM') };
  }

  it.each(['ed25519', 'rsa', 'ecdsa'] as const)('lets in with an %s key', async (type) => {
    const path = world.key('plot', { type });
    const agent = await agentWith(path);
    try {
      const host = await hostWith({ keys: [world.publicKey(path)] });
      expect(textIn(await run(targetAt(host, {}), world.deps({ env: agent.env })))).toBe('in\n');
    } finally {
      agent.stop();
    }
  });

  it('opens an encrypted key of the access that the agent holds, without a passphrase', async () => {
    const path = world.key('plot');
    const agent = await agentWith(world.key('other'), path);
    try {
      execFileSync('ssh-keygen', ['-q', '-p', '-P', '', '-N', 'tidal', '-f', path]);
      const host = await hostWith({ keys: [world.publicKey(path)] });
      // The encrypted file itself carries the public half.
      rmSync(`${path}.pub`);
      const outcome = await run(targetAt(host, { key: path }), world.deps({ env: agent.env }));
      expect(textIn(outcome)).toBe('in\n');
      expect(host.attempts()).toEqual(['publickey auditor']);
    } finally {
      agent.stop();
    }
  });

  it('offers at most three of its keys', async () => {
    const keys = ['a', 'b', 'c', 'd', 'e'].map((name) => world.key(name));
    const agent = await agentWith(...keys);
    try {
      const host = await hostWith({ keys: [world.publicKey(world.key('right'))] });
      await run(targetAt(host, {}), world.deps({ env: agent.env }));
      expect(host.attempts()).toHaveLength(3);
    } finally {
      agent.stop();
    }
  });

  it('offers none of its keys but the configured one under IdentitiesOnly', async () => {
    const right = world.key('right');
    const agent = await agentWith(world.key('a'), world.key('b'), right);
    try {
      const config = `Host *\n  IdentitiesOnly yes\n  IdentityFile ${right}\n`;
      writeFileSync(join(world.home, '.ssh', 'config'), config);
      const host = await hostWith({ keys: [world.publicKey(right)] });
      expect(textIn(await run(targetAt(host, {}), world.deps({ env: agent.env })))).toBe('in\n');
      expect(host.attempts()).toEqual(['publickey auditor']);
    } finally {
      agent.stop();
    }
  });

  it('goes on without it where the socket is dead', async () => {
    const path = world.key('id_ed25519');
    const host = await hostWith({ keys: [world.publicKey(path)] });
    const deps = world.deps({ env: { SSH_AUTH_SOCK: join(world.home, 'nothing') } });
    expect(textIn(await run(targetAt(host, {}), deps))).toBe('in\n');
  });
});
