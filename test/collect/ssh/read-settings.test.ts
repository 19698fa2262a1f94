import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { askOpenSsh, parseOpenSshSettings } from '../../../src/collect/ssh/openssh-settings.ts';
import { makeReadSettings } from '../../../src/collect/ssh/read-settings.ts';
import {
  expandPath,
  isSafeHost,
  isSafeUser,
  type SshSettings,
  settingsFrom,
} from '../../../src/collect/ssh/ssh-settings.ts';
import { makeWorld, type SshWorld } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

// OpenSSH takes the home folder from the account, whatever HOME says.
const { homedir: home, username: userName } = userInfo();
const own = { home, userName };

const usual: SshSettings = {
  hostName: 'vault',
  port: 22,
  user: userName,
  identityFiles: [],
  identitiesOnly: false,
  userKnownHosts: [`${home}/.ssh/known_hosts`, `${home}/.ssh/known_hosts2`],
  globalKnownHosts: ['/etc/ssh/ssh_known_hosts', '/etc/ssh/ssh_known_hosts2'],
  proxyCommand: false,
};

interface ConfigRow {
  readonly name: string;
  readonly config: string;
  readonly wish?: { readonly user?: string; readonly port?: number };
  readonly found: Partial<SshSettings>;
  /** The library does not know this part of the grammar. */
  readonly openSshOnly?: boolean;
}

const rows: readonly ConfigRow[] = [
  { name: 'an empty file', config: '', found: {} },
  {
    name: 'name, port and user',
    config: 'Host vault\n  HostName 198.18.20.5\n  Port 2222\n  User auditor\n',
    found: { hostName: '198.18.20.5', port: 2222, user: 'auditor' },
  },
  {
    name: 'the first value counts',
    config: 'Host vault\n  Port 2222\nHost *\n  Port 830\n  User auditor\n',
    found: { port: 2222, user: 'auditor' },
  },
  {
    name: 'directives in any case, with an equals sign',
    config: 'host vault\n  HOSTNAME=198.18.20.5\n  port = 2222\n',
    found: { hostName: '198.18.20.5', port: 2222 },
  },
  {
    name: 'a pattern with a negation that matches',
    config: 'Host v* !vault\n  Port 2222\nHost v??lt\n  User auditor\n',
    found: { user: 'auditor' },
  },
  {
    name: 'access before configuration',
    config: 'Host *\n  User other\n  Port 2222\n',
    wish: { user: 'auditor', port: 830 },
    found: { user: 'auditor', port: 830 },
  },
  {
    name: 'several keys, and only those',
    config:
      'Host vault\n  IdentityFile ~/.ssh/one\n  IdentitiesOnly yes\nHost *\n  IdentityFile /keys/two\n',
    found: { identityFiles: [`${home}/.ssh/one`, '/keys/two'], identitiesOnly: true },
  },
  {
    name: 'a usual key that is named',
    config: 'Host *\n  IdentityFile ~/.ssh/id_ed25519\n',
    found: { identityFiles: [`${home}/.ssh/id_ed25519`] },
  },
  {
    name: 'tokens in a path',
    config: 'Host vault\n  User auditor\n  IdentityFile %d/keys/%r-%n\n',
    found: { user: 'auditor', identityFiles: [`${home}/keys/auditor-vault`] },
  },
  {
    name: 'a jump host',
    config: 'Host vault\n  ProxyJump auditor@gate:2222,inner\n',
    found: { proxyJump: 'auditor@gate:2222,inner' },
  },
  {
    name: 'a jump host that is switched off',
    config: 'Host vault\n  ProxyJump none\nHost *\n  ProxyJump gate\n',
    found: {},
  },
  {
    name: 'an alias for the host key, and files of known hosts',
    config:
      'Host vault\n  HostKeyAlias strong-room\n  UserKnownHostsFile ~/.ssh/a /b/c\n  GlobalKnownHostsFile /d\n',
    found: {
      hostKeyAlias: 'strong-room',
      userKnownHosts: [`${home}/.ssh/a`, '/b/c'],
      globalKnownHosts: ['/d'],
    },
  },
  {
    name: 'weakened checks, which are not followed',
    config:
      'Host *\n  StrictHostKeyChecking no\n  UserKnownHostsFile /dev/null\n  GlobalKnownHostsFile none\n',
    found: {},
  },
  {
    name: 'an agent of its own',
    config: 'Host *\n  IdentityAgent ~/agent\n',
    found: { identityAgent: `${home}/agent` },
  },
  { name: 'no agent', config: 'Host *\n  IdentityAgent none\n', found: { identityAgent: 'none' } },
  {
    name: 'a command in place of a connection',
    config: 'Host vault\n  ProxyCommand nc %h %p\n',
    found: { proxyCommand: true },
  },
  {
    name: 'a match on the host',
    config: 'Match host vault\n  Port 2222\nMatch host other\n  User nobody\n',
    found: { port: 2222 },
  },
  {
    name: 'a name made from the one given',
    config: 'Host vault\n  HostName %h.office.example\n',
    found: { hostName: 'vault.office.example' },
  },
];

const haveSsh = existsSync('/usr/bin/ssh');
if (!haveSsh) console.warn('skipped: no ssh on this machine, its configuration is not compared');

describe('the SSH configuration', () => {
  it.each(rows)('by the library: $name', async ({ config, wish, found }) => {
    const file = join(world.home, 'config');
    writeFileSync(file, config, { mode: 0o600 });
    const read = makeReadSettings({ own, configFiles: [file], openSsh: false });
    expect(await read({ host: 'vault', ...wish })).toEqual({ ...usual, ...found });
  });

  it.skipIf(!haveSsh).each(rows)('by ssh -G: $name', async ({ config, wish, found }) => {
    const file = join(world.home, 'config');
    writeFileSync(file, config, { mode: 0o600 });
    const read = makeReadSettings({ own, configFiles: [file] });
    expect(await read({ host: 'vault', ...wish })).toEqual({ ...usual, ...found });
  });

  it.skipIf(!haveSsh)('follows Include by ssh -G', async () => {
    const part = join(world.home, 'part');
    writeFileSync(part, 'Port 2222\n');
    const file = join(world.home, 'config');
    writeFileSync(file, `Include ${part}\n`);
    const read = makeReadSettings({ own, configFiles: [file] });
    expect((await read({ host: 'vault' })).port).toBe(2222);
  });

  it('never runs a command for the library', async () => {
    const file = join(world.home, 'config');
    const trace = join(world.home, 'trace');
    writeFileSync(file, `Match exec "touch ${trace}"\n  Port 2222\n`);
    const read = makeReadSettings({ own, configFiles: [file], openSsh: false });
    expect((await read({ host: 'vault' })).port).toBe(22);
    expect(existsSync(trace)).toBe(false);
  });

  it('falls back on the library where OpenSSH refuses the file', async () => {
    const file = join(world.home, 'config');
    writeFileSync(file, 'Host vault\n  Port 2222\n  NoSuchDirective yes\n');
    const read = makeReadSettings({ own, configFiles: [file] });
    expect((await read({ host: 'vault' })).port).toBe(2222);
  });
});

describe('askOpenSsh', () => {
  /** A stand-in that writes down what it was called with. */
  function recorder(): { program: string; calls: () => string } {
    const program = join(world.home, 'recorder');
    const log = join(world.home, 'log');
    writeFileSync(program, `#!/bin/sh\nprintf '%s\\n' "$@" >> ${log}\necho port 2222\n`);
    chmodSync(program, 0o700);
    return { program, calls: () => (existsSync(log) ? readFileSync(log, 'utf8') : '') };
  }

  it('asks with an argument array, the name after --', async () => {
    const { program, calls } = recorder();
    const wish = { host: 'vault', user: 'auditor', port: 830 };
    const found = await askOpenSsh(wish, { program, configFile: '/c' });
    expect(found?.get('port')).toEqual(['2222']);
    expect(calls()).toBe('-G\n-T\n-F\n/c\n-l\nauditor\n-p\n830\n--\nvault\n');
  });

  it.each([
    { host: '-oProxyCommand=x' },
    { host: '$(reboot)' },
    { host: 'a b' },
    { host: 'vault', user: '-l' },
    { host: 'vault', user: 'a;b' },
  ])('never asks for %j', async (wish) => {
    const { program, calls } = recorder();
    expect(await askOpenSsh(wish, { program })).toBeUndefined();
    expect(calls()).toBe('');
  });

  it('is undefined where there is no such program', async () => {
    const program = join(world.home, 'nothing');
    expect(await askOpenSsh({ host: 'vault' }, { program })).toBeUndefined();
  });
});

describe('parts', () => {
  it.each([
    ['vault.office.example', true],
    ['198.18.20.5', true],
    ['2001:db8::5', true],
    ['fe80::1%en0', true],
    ['my_host', true],
    ['', false],
    ['-v', false],
    ['a/b', false],
    ['a@b', false],
    ['a\nb', false],
    ['x'.repeat(256), false],
  ])('isSafeHost(%j) is %s', (host, safe) => {
    expect(isSafeHost(host)).toBe(safe);
  });

  it.each([
    ['auditor', true],
    ['svc-audit', true],
    ['OFFICE\\auditor', true],
    ['auditor@office.example', true],
    ['machine$', true],
    ['-l', false],
    ['a b', false],
    ['$(x)', false],
    ['', false],
  ])('isSafeUser(%j) is %s', (user, safe) => {
    expect(isSafeUser(user)).toBe(safe);
  });

  it.each([
    ['~/k', '/h/k'],
    ['/abs/k', '/abs/k'],
    ['rel', '/h/.ssh/rel'],
    ['%d/%r', '/h/me'],
    ['100%%', '/h/.ssh/100%'],
    ['%z', '/h/.ssh/%z'],
    ['~other/k', '/h/.ssh/~other/k'],
  ])('expandPath(%j) is %s', (text, path) => {
    expect(expandPath(text, { d: '/h', r: 'me' }, '/h')).toBe(path);
  });

  it('survives output that is none', () => {
    const found = parseOpenSshSettings('port\n\nport 99999\nuser \u0000\nHostname x\n===\n');
    expect(settingsFrom(found, { host: 'vault' }, own)).toMatchObject({
      hostName: 'vault',
      port: 22,
    });
  });
});

it.skipIf(!haveSsh)('knows the usual key names of this OpenSSH as no configuration', () => {
  const printed = execFileSync('ssh', ['-G', '-F', '/dev/null', 'vault'], { encoding: 'utf8' });
  const files = parseOpenSshSettings(printed);
  expect(files.get('identityfile')?.length).toBeGreaterThan(3);
  expect(settingsFrom(files, { host: 'vault' }, own).identityFiles).toEqual([]);
});
