import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  fingerprintOf,
  isForHost,
  keyTypeOf,
  knownHostLine,
  knownHostName,
  matchesPattern,
  parseKnownHosts,
} from '../../../src/collect/ssh/known-hosts.ts';
import { makeWorld, type SshWorld } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

const wire = (publicKey: string) => Buffer.from(publicKey.split(' ')[1] ?? '', 'base64');

describe('fingerprintOf', () => {
  it.each(['ed25519', 'ecdsa', 'rsa'] as const)('is what ssh-keygen -lf prints: %s', (type) => {
    const path = world.key('plot', { type });
    const printed = execFileSync('ssh-keygen', ['-lf', `${path}.pub`], { encoding: 'utf8' });
    expect(fingerprintOf(wire(world.publicKey(path)))).toBe(printed.split(' ')[1]);
  });
});

describe('knownHostName', () => {
  it.each([
    ['Vault.office.example', 22, 'vault.office.example'],
    ['vault.office.example', 2222, '[vault.office.example]:2222'],
    ['2001:db8::5', 22, '2001:db8::5'],
    ['2001:db8::5', 830, '[2001:db8::5]:830'],
  ])('%s port %i is %s', (host, port, name) => {
    expect(knownHostName(host, port)).toBe(name);
  });
});

describe('isForHost, against ssh-keygen -F as oracle', () => {
  const names = [
    'vault.office.example',
    'VAULT.office.example',
    '[vault.office.example]:2222',
    'vault.office.exam',
    'gate.office.example',
    'plot-1.office.example',
    '198.18.20.5',
    '198.18.20.50',
    '2001:db8::5',
  ];
  const patterns = [
    'vault.office.example',
    'vault.office.example,198.18.20.5',
    '[vault.office.example]:2222',
    '*.office.example',
    '*.office.example,!gate.office.example',
    '!gate.office.example,*.office.example',
    'plot-?.office.example',
    '198.18.20.*',
    '198.18.20.?',
    '*',
    '!*',
    '2001:db8::5',
  ];
  const cases = patterns.flatMap((hosts) => names.map((name) => ({ hosts, name })));

  it('agrees on every pattern and name, plain and hashed by ssh-keygen -H', () => {
    const key = world.publicKey(world.key('host')).split(' ').slice(0, 2).join(' ');
    let found = 0;
    for (const { hosts, name } of cases) {
      writeFileSync(world.knownHosts, `${hosts} ${key}\n`);
      const plain = parseKnownHosts('f', readFileSync(world.knownHosts, 'utf8'));
      const lower = name.toLowerCase();
      const ours = plain.some((entry) => isForHost(entry, lower));
      expect({ hosts, name, ours }).toEqual({ hosts, name, ours: oracle(lower) });
      found += ours ? 1 : 0;
      execFileSync('ssh-keygen', ['-q', '-H', '-f', world.knownHosts], { stdio: 'ignore' });
      const hashed = parseKnownHosts('f', readFileSync(world.knownHosts, 'utf8'));
      const oursHashed = hashed.some((entry) => isForHost(entry, lower));
      expect({ hosts, name, hashed: oursHashed }).toEqual({ hosts, name, hashed: oracle(lower) });
    }
    expect(found).toBeGreaterThan(20);
  }, 60_000);

  function oracle(name: string): boolean {
    try {
      execFileSync('ssh-keygen', ['-F', name, '-f', world.knownHosts], { stdio: 'ignore' });
      return true;
    } catch {
      return false;
    }
  }
});

describe('parseKnownHosts', () => {
  it('skips what is no entry, and keeps line numbers', () => {
    const key = world.publicKey(world.key('host')).split(' ').slice(0, 2).join(' ');
    const text = [
      '# ours',
      '',
      `vault ${key} a comment`,
      'gate ssh-ed25519 AAAA',
      'gate ssh-rsa-but-not @@@',
      `quay ssh-rsa ${key.split(' ')[1]}`,
      `@revoked old ${key}`,
      `@cert-authority *.office.example ${key}`,
      `  loft\t${key}`,
      'one two',
    ].join('\r\n');
    const shown = parseKnownHosts('known', text).map(({ line, hosts, marker }) => [
      line,
      hosts,
      marker,
    ]);
    expect(shown).toEqual([
      [3, 'vault', 'none'],
      [7, 'old', 'revoked'],
      [8, '*.office.example', 'cert-authority'],
      [9, 'loft', 'none'],
    ]);
  });

  it('reads back the line that it writes', () => {
    const key = wire(world.publicKey(world.key('host')));
    const [entry] = parseKnownHosts('f', knownHostLine('[vault]:2222', key));
    expect(entry).toMatchObject({ hosts: '[vault]:2222', keyType: 'ssh-ed25519', key });
  });

  it('survives any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        for (const entry of parseKnownHosts('f', text)) isForHost(entry, 'vault');
      }),
    );
  });
});

describe('keyTypeOf', () => {
  it.each([
    ['empty', Buffer.alloc(0)],
    ['a length beyond its end', Buffer.from([0, 0, 0, 9, 65])],
    ['a length of four thousand million', Buffer.from([255, 255, 255, 255, 65])],
    ['a name that is no text', Buffer.from([0, 0, 0, 1, 7])],
  ])('is undefined for %s', (_name, key) => {
    expect(keyTypeOf(key)).toBeUndefined();
  });
});

describe('matchesPattern', () => {
  it('agrees with a regular expression on short patterns', () => {
    const letters = fc.string({ unit: fc.constantFrom('a', 'b', '*', '?'), maxLength: 8 });
    const names = fc.string({ unit: fc.constantFrom('a', 'b'), maxLength: 8 });
    fc.assert(
      fc.property(letters, names, (pattern, name) => {
        const slow = new RegExp(`^${pattern.replaceAll('?', '.').replaceAll('*', '.*')}$`);
        expect(matchesPattern(pattern, name)).toBe(slow.test(name));
      }),
    );
  });

  it('takes no time for a pattern of many stars', () => {
    expect(matchesPattern(`${'*a'.repeat(2000)}b`, 'a'.repeat(4000))).toBe(false);
  });
});
