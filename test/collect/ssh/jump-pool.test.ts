import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SshHost } from '../../../mocks/ssh-host/ssh-host.ts';
import { jumpTarget } from '../../../src/collect/ssh/endpoint.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';
import { makeWorld, run, type SshWorld, targetAt, textIn, troubleIn } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

async function hosts(count: number) {
  const key = world.key('id_ed25519');
  const login = { keys: [world.publicKey(key)] };
  const made: SshHost[] = [];
  for (let index = 0; index < count; index += 1) {
    const host = await world.host({
      login,
      forwards: true,
      answer: () => ({ stdout: `${index}\n` }),
    });
    world.trust(host);
    made.push(host);
  }
  return made as [SshHost, ...SshHost[]];
}

const jumpBy = (host: SshHost) => `auditor@127.0.0.1:${host.port}`;

describe('through a jump host', () => {
  it('reaches the target, by the jump of the access', async () => {
    const [gate, vault] = await hosts(2);
    const outcome = await run(targetAt(vault as SshHost, { jump: jumpBy(gate) }), world.deps());
    expect(textIn(outcome)).toBe('1\n');
    expect([gate.sessions(), gate.commands()]).toEqual([1, []]);
  });

  it('reaches the target through two, by ProxyJump of the configuration', async () => {
    const [gate, inner, vault] = (await hosts(3)) as [SshHost, SshHost, SshHost];
    const jumps = `${jumpBy(gate)},${jumpBy(inner)}`;
    const config = `Host vault\n  HostName 127.0.0.1\n  Port ${vault.port}\n  ProxyJump ${jumps}\n`;
    writeFileSync(join(world.home, '.ssh', 'config'), config);
    const target = { at: 'vault', access: { via: 'ssh', name: 'hosts', user: 'auditor' } } as const;
    expect(textIn(await run(target, world.deps()))).toBe('2\n');
    expect([gate, inner, vault].map((host) => host.sessions())).toEqual([1, 1, 1]);
  });

  it('shares one connection, and shakes at most five hands at once', async () => {
    const [gate] = await hosts(1);
    const key = join(world.home, '.ssh', 'id_ed25519');
    const login = { keys: [world.publicKey(key)] };
    const vault = await world.host({ login, answer: () => ({ stdout: 'in\n' }) });
    world.trust(vault);
    const deps = world.deps();
    const target = targetAt(vault, { jump: jumpBy(gate) });
    const outcomes = await Promise.all(Array.from({ length: 24 }, () => run(target, deps)));
    expect(outcomes.map(textIn)).toEqual(Array(24).fill('in\n'));
    expect([gate.connections(), vault.connections()]).toEqual([1, 24]);
    expect(vault.handshakesAtOnce()).toBeLessThanOrEqual(5);
    expect(vault.handshakesAtOnce()).toBeGreaterThan(1);
  });

  it('is not tried again by the next target when it refused: jump-failed', async () => {
    const [vault] = await hosts(1);
    const gate = await world.host({ login: { keys: [] } });
    world.trust(gate);
    const deps = world.deps();
    const target = targetAt(vault, { jump: jumpBy(gate) });
    const troubles = [troubleIn(await run(target, deps)), troubleIn(await run(target, deps))];
    for (const trouble of troubles) {
      expect(trouble.kind).toBe('jump-failed');
      expect(trouble.seen).toContain(
        `jump host 127.0.0.1: 127.0.0.1 port ${gate.port} refused user auditor`,
      );
    }
    expect([gate.connections(), vault.connections()]).toEqual([1, 0]);
  });

  it('has an unknown host key: jump-failed with its fingerprint', async () => {
    const [vault] = await hosts(1);
    const gate = await world.host({ forwards: true });
    const trouble = troubleIn(await run(targetAt(vault, { jump: jumpBy(gate) }), world.deps()));
    expect(trouble).toMatchObject({ kind: 'jump-failed', fingerprint: gate.fingerprint });
  });

  it('does not forward: jump-failed', async () => {
    const [vault] = await hosts(1);
    const login = { keys: [world.publicKey(join(world.home, '.ssh', 'id_ed25519'))] };
    const gate = await world.host({ login });
    world.trust(gate);
    const trouble = troubleIn(await run(targetAt(vault, { jump: jumpBy(gate) }), world.deps()));
    expect(trouble.kind).toBe('jump-failed');
    expect(trouble.remedy).toBe('let the jump host forward connections (AllowTcpForwarding)');
  });

  it('verifies the target behind it too', async () => {
    const [gate, vault] = (await hosts(2)) as [SshHost, SshHost];
    writeFileSync(world.knownHosts, `${gate.hostKeyLines[0]}\n`);
    const trouble = troubleIn(await run(targetAt(vault, { jump: jumpBy(gate) }), world.deps()));
    expect(trouble).toMatchObject({ kind: 'host-key-unknown', fingerprint: vault.fingerprint });
  });

  it('never gets the password of the target', async () => {
    const vault = await world.host();
    const gate = await world.host({ login: { password: 'gate has another' }, forwards: true });
    world.trust(gate);
    const target = targetAt(vault, { password: 'PASSWORD', jump: jumpBy(gate) });
    expect(troubleIn(await run(target, world.deps())).kind).toBe('jump-failed');
    expect(gate.attempts()).toEqual([]);
  });

  it('ends at a circle of jumps', async () => {
    const [gate] = await hosts(1);
    const port = gate.port;
    writeFileSync(
      join(world.home, '.ssh', 'config'),
      `Host a\n  ProxyJump b\nHost b\n  ProxyJump a\nHost *\n  HostName 127.0.0.1\n  Port ${port}\n`,
    );
    const target = { at: 'a', access: { via: 'ssh', name: 'hosts', user: 'auditor' } } as const;
    const limits = { ...defaultReadLimits, wholeMs: 5_000 };
    const trouble = troubleIn(await run(target, world.deps(), { limits }));
    expect(trouble.kind).toBe('jump-failed');
    expect(trouble.seen).toContain('the way leads through jump host b to itself');
    expect(gate.connections()).toBe(0);
  });
});

describe('jumpTarget', () => {
  const access = { via: 'ssh', name: 'hosts', password: 'PASSWORD', key: '~/k' } as const;
  const base = { via: 'ssh', name: 'hosts jump' };
  it.each([
    ['gate', { at: 'gate', access: base }],
    ['me@gate:2222', { at: 'gate', atPort: 2222, access: { ...base, user: 'me' } }],
    ['ssh://me@gate:2222', { at: 'gate', atPort: 2222, access: { ...base, user: 'me' } }],
    ['me@[2001:db8::5]:22', { at: '2001:db8::5', atPort: 22, access: { ...base, user: 'me' } }],
    ['a,b@c:9', { at: 'c', atPort: 9, access: { ...base, user: 'b', jump: 'a' } }],
    ['', 'faulty'],
    ['-oProxyCommand=x', 'faulty'],
    ['gate:0', 'faulty'],
    ['gate:99999', 'faulty'],
    ['-l@gate', 'faulty'],
    ['a,b,c,d,e', 'faulty'],
  ])('%j', (text, target) => {
    expect(jumpTarget(text, access)).toEqual(target);
  });
});
