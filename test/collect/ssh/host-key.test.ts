import { execFileSync } from 'node:child_process';
import {
  appendFileSync,
  lstatSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { appendKnownHost } from '../../../src/collect/ssh/known-hosts-file.ts';
import { makeWorld, run, type SshWorld, targetAt, textIn, troubleIn } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

const reply = { answer: () => ({ stdout: 'in\n' }) };
const keyOf = (line: string | undefined) => (line ?? '').split(' ').slice(1).join(' ');

describe('the host key', () => {
  it('is unknown: nothing is offered to the host', async () => {
    const host = await world.host(reply);
    expect(troubleIn(await run(targetAt(host), world.deps()))).toEqual({
      kind: 'host-key-unknown',
      seen: `the host key of 127.0.0.1 port ${host.port} is not known: it shows ssh-ed25519 ${host.fingerprint}`,
      remedy:
        'run: hopgauge access --enrol, and compare the fingerprint with the one shown on the host itself',
      fingerprint: host.fingerprint,
    });
    expect(host.attempts()).toEqual([]);
    expect(host.connections()).toBe(1);
  });

  it('is unknown, but recorded for another host: which one', async () => {
    const host = await world.host(reply);
    writeFileSync(world.knownHosts, `plot-1.office.example ${keyOf(host.hostKeyLines[0])}\n`);
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble.kind).toBe('host-key-unknown');
    expect(trouble.seen).toContain(
      `; this key is recorded for plot-1.office.example (${world.knownHosts} line 1)`,
    );
  });

  it('has changed: the place of the known one, loud, and nothing is offered', async () => {
    const [old, host] = [await world.host(reply), await world.host(reply)];
    const name = `[127.0.0.1]:${host.port}`;
    const key = keyOf(old.hostKeyLines[0]);
    writeFileSync(
      world.knownHosts,
      `# ours\n${name} ${key}\ngate ${keyOf(host.hostKeyLines[0])}\n`,
    );
    expect(troubleIn(await run(targetAt(host), world.deps()))).toEqual({
      kind: 'host-key-changed',
      seen: `ANOTHER HOST KEY AT 127.0.0.1 port ${host.port}: it shows ssh-ed25519 ${host.fingerprint}, but ${world.knownHosts} line 2 records ${old.fingerprint}; this key is recorded for gate (${world.knownHosts} line 3)`,
      remedy: `nothing was sent to it; find out whether another machine answers at this address or the host was set up anew, and only then remove ${world.knownHosts} line 2 and run: hopgauge access --enrol`,
      fingerprint: host.fingerprint,
      expected: old.fingerprint,
    });
    expect(host.attempts()).toEqual([]);
  });

  it('is that of a node of its site, where another site has the address, too', async () => {
    const [other, host] = [await world.host(reply), await world.host(reply)];
    const [own, foreign] = ['vault.the-depot.1a2b3c4d', 'vault.the-pier.5e6f7a8b'];
    const lines = [
      `[127.0.0.1]:${host.port} ${keyOf(other.hostKeyLines[0])}`,
      `${own} ${keyOf(host.hostKeyLines[0])}`,
      `${foreign} ${keyOf(other.hostKeyLines[0])}`,
    ];
    writeFileSync(world.knownHosts, `${lines.join('\n')}\n`);
    const as = (knownAs: string) =>
      run(targetAt(host, { password: 'PASSWORD', knownAs }), world.deps());
    expect(textIn(await as(own))).toBe('in\n');
    expect(troubleIn(await as(foreign)).kind).toBe('host-key-changed');
    expect(troubleIn(await as('gate.the-depot.9c0d1e2f')).kind).toBe('host-key-unknown');
  });

  it('is revoked, even where it is also recorded', async () => {
    const host = await world.host(reply);
    world.trust(host);
    appendFileSync(world.knownHosts, `@revoked * ${keyOf(host.hostKeyLines[0])}\n`);
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble.kind).toBe('host-key-revoked');
    expect(trouble.seen).toMatch(/which .*known_hosts line 2 marks as revoked$/);
  });

  it('is the one of the type that is recorded, where the host has several', async () => {
    const keys = [
      world.key('hk1'),
      world.key('hk2', { type: 'rsa' }),
      world.key('hk3', { type: 'ecdsa' }),
    ];
    const hostKeys = keys.map((path) => readFileSync(path, 'utf8'));
    const host = await world.host({ ...reply, hostKeys });
    for (const line of host.hostKeyLines) {
      writeFileSync(world.knownHosts, `${line}\n`);
      expect(textIn(await run(targetAt(host), world.deps()))).toBe('in\n');
    }
    expect(host.hostKeyLines).toHaveLength(3);
  });

  it('is of another type than all that are recorded: unknown, and the types', async () => {
    const host = await world.host({ ...reply, hostKeys: [readFileSync(world.key('hk'), 'utf8')] });
    const rsa = world
      .publicKey(world.key('rsa', { type: 'rsa' }))
      .split(' ')
      .slice(0, 2)
      .join(' ');
    writeFileSync(world.knownHosts, `[127.0.0.1]:${host.port} ${rsa}\n`);
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble.kind).toBe('host-key-unknown');
    expect(trouble.seen).toContain('; recorded for it are only keys of type ssh-rsa');
  });

  it('is found in a file hashed by ssh-keygen -H', async () => {
    const host = await world.host(reply);
    world.trust(host);
    execFileSync('ssh-keygen', ['-q', '-H', '-f', world.knownHosts], { stdio: 'ignore' });
    expect(readFileSync(world.knownHosts, 'utf8')).toMatch(/^\|1\|/);
    expect(textIn(await run(targetAt(host), world.deps()))).toBe('in\n');
  });

  it('is found under the name alone, as OpenSSH does for a port of its own', async () => {
    const host = await world.host(reply);
    writeFileSync(world.knownHosts, `127.0.0.1 ${keyOf(host.hostKeyLines[0])}\n`);
    expect(textIn(await run(targetAt(host), world.deps()))).toBe('in\n');
  });

  it('is found in the second of several files', async () => {
    const host = await world.host(reply);
    const second = join(world.home, 'second');
    writeFileSync(second, `${host.hostKeyLines[0]}\n`);
    const deps = world.deps({ knownHosts: [world.knownHosts, second, '/nowhere/at/all'] });
    expect(textIn(await run(targetAt(host), deps))).toBe('in\n');
  });

  it('is checked even where the configuration says not to', async () => {
    const host = await world.host(reply);
    const config = join(world.home, '.ssh', 'config');
    writeFileSync(config, 'Host *\n  StrictHostKeyChecking no\n  UserKnownHostsFile /dev/null\n');
    for (const openSsh of [true, false]) {
      const deps = world.deps({ settings: { openSsh, configFiles: [config] } });
      expect(troubleIn(await run(targetAt(host), deps)).kind).toBe('host-key-unknown');
    }
    expect(host.attempts()).toEqual([]);
  });

  it('is what the intent declares: let in with no known_hosts entry', async () => {
    const host = await world.host(reply);
    const target = { ...targetAt(host), hostKey: host.fingerprint };
    expect(textIn(await run(target, world.deps()))).toBe('in\n');
  });

  it('is not what the intent declares: changed', async () => {
    const host = await world.host(reply);
    world.trust(host);
    const expected = `SHA256:${'A'.repeat(43)}`;
    const trouble = troubleIn(await run({ ...targetAt(host), hostKey: expected }, world.deps()));
    expect(trouble).toMatchObject({
      kind: 'host-key-changed',
      fingerprint: host.fingerprint,
      expected,
    });
    expect(host.attempts()).toEqual([]);
  });
});

describe('appendKnownHost', () => {
  const line = 'vault.office.example ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAA';

  it('makes the folder and the file, for the owner alone', async () => {
    const file = join(world.home, 'new', 'known_hosts');
    await appendKnownHost(file, line);
    expect(readFileSync(file, 'utf8')).toBe(`${line}\n`);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(join(world.home, 'new')).mode & 0o777).toBe(0o700);
  });

  it('keeps what is there, and ends a last line that had no end', async () => {
    writeFileSync(world.knownHosts, 'gate ssh-ed25519 AAAA', { mode: 0o644 });
    await appendKnownHost(world.knownHosts, line);
    expect(readFileSync(world.knownHosts, 'utf8')).toBe(`gate ssh-ed25519 AAAA\n${line}\n`);
  });

  it('leaves a symbolic link in place', async () => {
    const link = join(world.home, 'link');
    symlinkSync(world.knownHosts, link);
    await appendKnownHost(link, line);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(readFileSync(world.knownHosts, 'utf8')).toBe(`${line}\n`);
  });

  it.each(['two\nlines here', '', 'vault ssh-ed25519', 'vault ssh-ed25519 AAAA\n* ssh-rsa BBBB'])(
    'refuses %j, which is no such line',
    async (bad) => {
      await expect(appendKnownHost(world.knownHosts, bad)).rejects.toThrow(
        'not a known_hosts line',
      );
      expect(readFileSync(world.knownHosts, 'utf8')).toBe('');
    },
  );

  it('makes a host known', async () => {
    const host = await world.host(reply);
    await appendKnownHost(world.knownHosts, host.hostKeyLines[0] ?? '');
    expect(textIn(await run(targetAt(host), world.deps()))).toBe('in\n');
  });
});
