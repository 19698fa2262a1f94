import { chmodSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { HostLogin } from '../../../mocks/ssh-host/host-login.ts';
import { makeSecret } from '../../../src/collect/secrets/secret.ts';
import type { FindSecret } from '../../../src/collect/types.ts';
import { canary, makeWorld, run, type SshWorld, targetAt, textIn, troubleIn } from './ssh-world.ts';

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

const secrets =
  (known: Readonly<Record<string, string>>): FindSecret =>
  async (name) => {
    const value = known[name];
    return value === undefined ? undefined : makeSecret(value);
  };

describe('login by key', () => {
  it.each([
    { name: 'Ed25519', options: { type: 'ed25519' } },
    { name: 'ECDSA', options: { type: 'ecdsa' } },
    { name: 'RSA', options: { type: 'rsa' } },
    { name: 'RSA in PEM form', options: { type: 'rsa', format: 'PEM' } },
  ] as const)('lets in with an $name key made by ssh-keygen', async ({ options }) => {
    const path = world.key('plot', options);
    const host = await hostWith({ keys: [world.publicKey(path)] });
    const outcome = await run(targetAt(host, { key: path }), world.deps());
    expect(textIn(outcome)).toBe('in\n');
    expect(host.attempts()).toEqual(['publickey auditor']);
  });

  it('expands ~ in the path of the key', async () => {
    const path = world.key('plot');
    const host = await hostWith({ keys: [world.publicKey(path)] });
    const outcome = await run(targetAt(host, { key: '~/.ssh/plot' }), world.deps());
    expect(textIn(outcome)).toBe('in\n');
  });

  it('finds the keys of the usual names by itself', async () => {
    const path = world.key('id_ecdsa', { type: 'ecdsa' });
    const host = await hostWith({ keys: [world.publicKey(path)] });
    expect(textIn(await run(targetAt(host, {}), world.deps()))).toBe('in\n');
  });

  it('offers the password too where both are named and wanted', async () => {
    const path = world.key('plot');
    const host = await hostWith({ keys: [world.publicKey(path)], password: canary, both: true });
    const target = targetAt(host, { key: path, password: 'PASSWORD' });
    expect(textIn(await run(target, world.deps()))).toBe('in\n');
    expect(host.attempts()).toEqual(['publickey auditor', 'password auditor']);
  });

  it('is refused with what was tried and what the server takes', async () => {
    const path = world.key('plot');
    const host = await hostWith({ keys: [world.publicKey(world.key('other'))], password: 'x' });
    const trouble = troubleIn(await run(targetAt(host, { key: path }), world.deps()));
    expect(trouble).toEqual({
      kind: 'login-refused',
      seen: `127.0.0.1 port ${host.port} refused user auditor: tried key ${path}; the server takes publickey, password`,
      remedy:
        'let user auditor in with one of these, or give the node an access with another user, key or password in the intent',
    });
    expect(host.connections()).toBe(1);
  });

  it('offers at most five credentials, below the limit of a usual server', async () => {
    const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
    const files = names.map((name) => `IdentityFile ${world.key(name)}`);
    writeFileSync(join(world.home, '.ssh', 'config'), `Host *\n${files.join('\n')}\n`);
    const host = await hostWith({ keys: [world.publicKey(world.key('right'))], triesMax: 6 });
    const trouble = troubleIn(await run(targetAt(host, {}), world.deps()));
    expect(trouble.kind).toBe('login-refused');
    expect(host.attempts()).toHaveLength(5);
    expect(host.connections()).toBe(1);
  });

  it('says so when the server closes at its limit', async () => {
    const path = world.key('plot');
    const host = await hostWith({ keys: [world.publicKey(world.key('right'))], triesMax: 1 });
    const trouble = troubleIn(await run(targetAt(host, { key: path }), world.deps()));
    expect(trouble.kind).toBe('login-refused');
    expect(trouble.seen).toContain('it closed the connection during the login');
  });
});

interface KeyTroubleRow {
  readonly name: string;
  readonly make: (world: SshWorld) => string;
  readonly passphrase?: string;
  readonly kind: string;
  readonly seen: (path: string) => string;
  readonly remedy: (path: string) => string;
}

const keyTroubles: readonly KeyTroubleRow[] = [
  {
    name: 'an encrypted key and no passphrase',
    make: (w) => w.key('plot', { passphrase: 'tidal' }),
    kind: 'key-unusable',
    seen: (path) => `key ${path} is encrypted, and no passphrase is at hand`,
    remedy: (path) =>
      `run: ssh-add ${path}, or name its passphrase in the access: passphrase: NAME`,
  },
  {
    name: 'an encrypted key and the wrong passphrase',
    make: (w) => w.key('plot', { passphrase: 'tidal' }),
    passphrase: 'WRONG',
    kind: 'key-unusable',
    seen: (path) => `the passphrase WRONG does not open key ${path}`,
    remedy: () => 'correct the secret WRONG',
  },
  {
    name: 'an encrypted PEM key and the wrong passphrase',
    make: (w) => w.key('plot', { type: 'rsa', format: 'PEM', passphrase: 'tidal' }),
    passphrase: 'WRONG',
    kind: 'key-unusable',
    seen: (path) => `the passphrase WRONG does not open key ${path}`,
    remedy: () => 'correct the secret WRONG',
  },
  {
    name: 'a passphrase that nobody has',
    make: (w) => w.key('plot', { passphrase: 'tidal' }),
    passphrase: 'NOWHERE',
    kind: 'secret-missing',
    seen: (path) =>
      `secret NOWHERE, the passphrase of ${path}, is neither in the environment nor in the secrets file`,
    remedy: () =>
      'put a line NOWHERE=... into ~/.config/hopgauge/secrets (mode 0600), or set it in the environment',
  },
  {
    name: 'a key that others can read',
    make: (w) => {
      const path = w.key('plot');
      chmodSync(path, 0o644);
      return path;
    },
    kind: 'key-unusable',
    seen: (path) => `key file ${path} has mode 0644: others can read the private key`,
    remedy: (path) => `run: chmod 600 ${path}`,
  },
  {
    name: 'a key file that is missing',
    make: (w) => join(w.home, 'nowhere'),
    kind: 'key-unusable',
    seen: (path) => `key file ${path} does not exist`,
    remedy: () => 'make the key, or correct its path',
  },
  {
    name: 'a public half alone',
    make: (w) => {
      const path = w.key('plot');
      rmSync(path);
      return path;
    },
    kind: 'key-unusable',
    seen: (path) => `only the public half of ${path} is here, and no SSH agent holds the key`,
    remedy: (path) => `run: ssh-add ${path}, or give the path of the private key`,
  },
  {
    name: 'a file that is no key',
    make: (w) => {
      const path = join(w.home, 'notes');
      writeFileSync(path, 'buy cord\n', { mode: 0o600 });
      return path;
    },
    kind: 'key-unusable',
    seen: (path) => `key file ${path} is not a private key of a known form (Ed25519, ECDSA or RSA)`,
    remedy: () =>
      'give the path of an OpenSSH private key; keys held in hardware are not supported',
  },
  {
    name: 'a folder in place of a key',
    make: (w) => w.home,
    kind: 'key-unusable',
    seen: (path) => `${path} is no key file`,
    remedy: () => 'give the path of a private key file',
  },
];

describe('a key that cannot be used', () => {
  it.each(keyTroubles)('$name: $kind', async ({ make, passphrase, kind, seen, remedy }) => {
    const path = make(world);
    const host = await hostWith({ keys: [] });
    const deps = world.deps({ findSecret: secrets({ WRONG: 'ebb', RIGHT: 'tidal' }) });
    const access = { key: path, ...(passphrase === undefined ? {} : { passphrase }) };
    const trouble = troubleIn(await run(targetAt(host, access), deps));
    expect(trouble).toEqual({ kind, seen: seen(path), remedy: remedy(path) });
    expect(host.attempts()).toEqual([]);
  });

  it.each([
    { name: 'Ed25519', options: {} },
    { name: 'PEM', options: { type: 'rsa', format: 'PEM' } },
  ] as const)('opens with the right passphrase: $name', async ({ options }) => {
    const path = world.key('plot', { ...options, passphrase: 'tidal' });
    const host = await hostWith({ keys: [world.publicKey(path)] });
    const deps = world.deps({ findSecret: secrets({ RIGHT: 'tidal' }) });
    const outcome = await run(targetAt(host, { key: path, passphrase: 'RIGHT' }), deps);
    expect(textIn(outcome)).toBe('in\n');
  });

  it('asks a person for the passphrase, once for all nodes', async () => {
    const path = world.key('plot', { passphrase: 'tidal' });
    const hosts = [
      await hostWith({ keys: [world.publicKey(path)] }),
      await hostWith({ keys: [world.publicKey(path)] }),
    ];
    const asked: string[] = [];
    const deps = world.deps({
      askSecret: async (question) => {
        asked.push(question);
        return makeSecret('tidal');
      },
    });
    const outcomes = await Promise.all(
      hosts.map((host) => run(targetAt(host, { key: path }), deps)),
    );
    expect(outcomes.map(textIn)).toEqual(['in\n', 'in\n']);
    expect(asked).toEqual([`passphrase of ${path} (not shown)`]);
  });
});

describe('login by password', () => {
  it('answers the one hidden prompt of keyboard-interactive', async () => {
    const host = await hostWith({ password: canary, prompts: ['Password: '] });
    expect(textIn(await run(targetAt(host), world.deps()))).toBe('in\n');
    expect(host.attempts()).toEqual(['keyboard-interactive auditor']);
  });

  it('does not answer prompts that need a person', async () => {
    const host = await hostWith({ password: canary, prompts: ['Password: ', 'One-time code: '] });
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble.kind).toBe('login-refused');
    expect(trouble.seen).toBe(
      `127.0.0.1 port ${host.port} refused user auditor: tried password PASSWORD; the server takes keyboard-interactive; the server asks for "Password:", "One-time code:", which needs a person`,
    );
  });

  it('tries a refused password once', async () => {
    const host = await hostWith({ password: 'another' });
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble.kind).toBe('login-refused');
    expect(host.attempts()).toEqual(['password auditor']);
  });

  it('is missing: secret-missing, and nothing is offered', async () => {
    const host = await hostWith({ password: canary });
    const trouble = troubleIn(await run(targetAt(host, { password: 'OTHER' }), world.deps()));
    expect(trouble).toEqual({
      kind: 'secret-missing',
      seen: 'secret OTHER, the password of auditor, is neither in the environment nor in the secrets file',
      remedy:
        'put a line OTHER=... into ~/.config/hopgauge/secrets (mode 0600), or set it in the environment',
    });
    expect(host.attempts()).toEqual([]);
  });

  it('is asked of a person where nothing else is at hand', async () => {
    const host = await hostWith({ password: canary });
    const asked: string[] = [];
    const askSecret = async (question: string) => {
      asked.push(question);
      return makeSecret(canary);
    };
    expect(textIn(await run(targetAt(host, {}), world.deps({ askSecret })))).toBe('in\n');
    expect(asked).toEqual([`password of auditor on 127.0.0.1 port ${host.port} (not shown)`]);
  });

  it('has nothing to offer: login-refused', async () => {
    const host = await hostWith({ password: canary });
    expect(troubleIn(await run(targetAt(host, {}), world.deps()))).toEqual({
      kind: 'login-refused',
      seen: `nothing to log in with: 127.0.0.1 port ${host.port} takes password from user auditor, and no such credential is at hand`,
      remedy: 'name a key: or password: in the access, or load a key into the SSH agent',
    });
    expect(host.attempts()).toEqual([]);
  });

  it('is not offered a fourth time after three nodes refused it', async () => {
    const hosts = [];
    for (let made = 0; made < 6; made += 1) hosts.push(await hostWith({ password: 'another' }));
    const deps = world.deps();
    const outcomes = await Promise.all(hosts.map((host) => run(targetAt(host), deps)));
    const kinds = outcomes.map((outcome) => troubleIn(outcome).kind).sort();
    expect(kinds).toEqual([
      ...Array(3).fill('credential-spent'),
      ...Array(3).fill('login-refused'),
    ]);
    expect(hosts.flatMap((host) => host.attempts())).toHaveLength(3);
  });

  it('is still used after refusals where another node accepts it', async () => {
    const deps = world.deps();
    const say = async (password: string) => run(targetAt(await hostWith({ password })), deps);
    const kinds: string[] = [];
    for (const password of ['no', 'no', canary, 'no', 'no', canary]) {
      const outcome = await say(password);
      kinds.push(outcome.ok ? 'in' : outcome.trouble.kind);
    }
    const refused = 'login-refused';
    expect(kinds).toEqual([refused, refused, 'in', refused, refused, 'in']);
  });
});

describe('the secret', () => {
  it.each([
    { name: 'password refused', login: { password: 'another' }, access: { password: 'PASSWORD' } },
    {
      name: 'keyboard-interactive refused',
      login: { password: 'another', prompts: ['Password: '] },
      access: { password: 'PASSWORD' },
    },
    {
      name: 'passphrase wrong',
      login: { keys: [] },
      access: { key: '~/.ssh/plot', passphrase: 'PASSWORD' },
    },
  ] as const)('is in no trouble: $name', async ({ login, access }) => {
    world.key('plot', { passphrase: 'tidal' });
    const host = await hostWith(login);
    const outcome = await run(targetAt(host, access), world.deps());
    expect(outcome.ok).toBe(false);
    expect(JSON.stringify(outcome)).not.toContain(canary);
  });
});
