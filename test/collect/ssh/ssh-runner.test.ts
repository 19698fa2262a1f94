import { writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import ssh2 from 'ssh2';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hostKeyOf } from '../../../mocks/ssh-host/host-key.ts';
import { makeKeyPair } from '../../../mocks/ssh-host/make-key-pair.ts';
import type { SshHostOptions } from '../../../mocks/ssh-host/ssh-host.ts';
import { reachTrouble } from '../../../src/collect/ssh/reach.ts';
import { scriptOutcome } from '../../../src/collect/ssh/script-outcome.ts';
import { sshRunner } from '../../../src/collect/ssh/ssh-runner.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';
import {
  canary,
  makeWorld,
  run,
  type SshWorld,
  shortLimits,
  targetAt,
  textIn,
  troubleIn,
} from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

async function runAt(options: SshHostOptions, limits = defaultReadLimits) {
  const host = await world.host(options);
  world.trust(host);
  const outcome = await run(targetAt(host), world.deps(), { limits });
  return { host, outcome, at: `127.0.0.1 port ${host.port}` };
}

describe('a host that answers', () => {
  it('gets the script on the standard input of exactly sh -s', async () => {
    const scripts: string[] = [];
    const { host, outcome } = await runAt({
      answer: (script) => {
        scripts.push(script);
        return { stdout: 'quay\n', stderr: 'a warning\n' };
      },
    });
    expect(outcome).toEqual({
      ok: true,
      output: Buffer.from('quay\n'),
      hostKey: host.fingerprint,
      exitCode: 0,
      complaint: 'a warning',
    });
    expect(scripts).toEqual(['echo hello\n']);
    expect(host.commands()).toEqual(['sh -s']);
    expect([host.connections(), host.sessions()]).toEqual([1, 1]);
  });

  it('runs in a real shell, script and all', async () => {
    const { outcome } = await runAt({ shell: true });
    expect(textIn(outcome)).toBe('hello\n');
  });

  it.each([1, 2, 3, 7, 64])(
    'is read whole when its output comes in pieces of %i bytes',
    async (chunkBytes) => {
      const stdout = 'Lände é 9000 \u{1f30a}\n'.repeat(20);
      const { outcome } = await runAt({ chunkBytes, answer: () => ({ stdout }) });
      expect(textIn(outcome)).toBe(stdout);
    },
  );

  it('keeps the noise of start files, which the marks of the script set apart', async () => {
    const { outcome } = await runAt({
      vice: { is: 'noisy-start', says: 'Welcome!\n' },
      answer: () => ({ stdout: 'quay\n' }),
    });
    expect(textIn(outcome)).toBe('Welcome!\nquay\n');
  });

  it('is waited for while it is slow to greet', async () => {
    const { outcome } = await runAt({
      vice: { is: 'slow-greeting', delayMs: 150 },
      answer: () => ({ stdout: 'late\n' }),
    });
    expect(textIn(outcome)).toBe('late\n');
  });

  it('gives bytes that are no text as they are', async () => {
    const { outcome } = await runAt({ vice: { is: 'garbage' } });
    expect(outcome.ok && outcome.output.length).toBe(4096);
  });

  it('is tried once more when it hung up before greeting', async () => {
    const { host, outcome } = await runAt({
      vice: { is: 'busy', times: 1, says: 'Exceeded MaxStartups\r\n' },
      answer: () => ({ stdout: 'second\n' }),
    });
    expect(textIn(outcome)).toBe('second\n');
    expect(host.connections()).toBe(2);
  });
});

interface TroubleRow {
  readonly name: string;
  readonly options: SshHostOptions;
  readonly kind: string;
  readonly seen: (at: string) => string | RegExp;
  readonly short?: boolean;
  readonly connections?: number;
}

const rows: readonly TroubleRow[] = [
  {
    name: 'silent after the connection',
    options: { vice: { is: 'silent' } },
    kind: 'no-answer',
    seen: (at) => `${at} accepts the connection and then says nothing`,
    short: true,
  },
  {
    name: 'another protocol on the port',
    options: {
      vice: { is: 'not-ssh', says: 'HTTP/1.1 400 Bad Request\r\nServer: \u001b[31mx\r\n\r\n' },
    },
    kind: 'not-ssh',
    seen: (at) => `${at} does not speak SSH: it says "HTTP/1.1 400 Bad Request Server: [31mx"`,
  },
  {
    name: 'hangs up before any greeting, twice',
    options: { vice: { is: 'busy', times: 9 } },
    kind: 'server-busy',
    seen: (at) => `${at} took the connection and closed it before any greeting`,
    connections: 2,
  },
  {
    name: 'at its limit of logins in progress',
    options: { vice: { is: 'busy', times: 9, says: 'Exceeded MaxStartups\r\n' } },
    kind: 'server-busy',
    seen: (at) =>
      `${at} took the connection and closed it before any greeting, saying "Exceeded MaxStartups"`,
    connections: 2,
  },
  {
    name: 'this address shut out for a while: not tried again',
    options: { vice: { is: 'busy', times: 9, says: 'Not allowed at this time\r\n' } },
    kind: 'server-busy',
    seen: (at) =>
      `${at} took the connection and closed it before any greeting, saying "Not allowed at this time"`,
    connections: 1,
  },
  {
    name: 'refuses to run a command',
    options: { vice: { is: 'refuse-exec' } },
    kind: 'shell-refused',
    seen: () => '127.0.0.1 let the user in and refused to run `sh -s`: "Unable to exec"',
  },
  {
    name: 'a login shell that turns everyone away',
    options: { vice: { is: 'no-shell', code: 1, says: 'This account is not available.\n' } },
    kind: 'shell-refused',
    seen: () =>
      'the login shell on 127.0.0.1 ended with status 1 and printed "This account is not available."',
  },
  {
    name: 'a shell that was killed',
    options: { vice: { is: 'killed', signal: 'KILL' }, answer: () => ({ stdout: 'half' }) },
    kind: 'truncated',
    seen: () => 'the shell on 127.0.0.1 was ended by "SIGKILL" after 4 bytes',
  },
  {
    name: 'a connection that ends mid-reply',
    options: {
      vice: { is: 'close-mid-reply', afterBytes: 5 },
      answer: () => ({ stdout: '0123456789' }),
    },
    kind: 'truncated',
    seen: () => 'the connection to 127.0.0.1 was lost after 5 bytes of output',
  },
  {
    name: 'hangs after the login',
    options: { vice: { is: 'hang' } },
    kind: 'truncated',
    seen: () => '127.0.0.1 did not finish within 0.9 s; 0 bytes had come',
    short: true,
  },
  {
    name: 'floods its standard output',
    options: { vice: { is: 'flood', on: 'stdout' } },
    kind: 'overlong',
    seen: () => '127.0.0.1 printed more than 8388608 bytes',
  },
  {
    name: 'floods its standard error',
    options: { vice: { is: 'flood', on: 'stderr' } },
    kind: 'overlong',
    seen: () => '127.0.0.1 printed more than 8388608 bytes',
  },
];

describe('a script whose time is over', () => {
  const context = {
    where: 'vault',
    hostKey: 'SHA256:abc',
    shell: 'sh',
    limits: defaultReadLimits,
  } as const;
  const outcomeAfter = (text: string) =>
    scriptOutcome({ is: 'time', bytes: text.length, output: Buffer.from(text) }, context);

  it('gives what had come, with the key of the host', () => {
    expect(outcomeAfter('half')).toEqual({
      ok: false,
      trouble: {
        kind: 'truncated',
        seen: 'vault did not finish within 30 s; 4 bytes had come',
        remedy: 'see what keeps the host busy, or raise the time limit',
      },
      came: { output: Buffer.from('half'), hostKey: 'SHA256:abc' },
    });
    expect(outcomeAfter('')).not.toHaveProperty('came');
  });
});

describe('a host in trouble', () => {
  it.each(rows)('$name: $kind', async ({ options, kind, seen, short, connections = 1 }) => {
    const { host, outcome, at } = await runAt(options, short ? shortLimits : defaultReadLimits);
    const trouble = troubleIn(outcome);
    expect({ kind: trouble.kind, seen: trouble.seen }).toEqual({ kind, seen: seen(at) });
    expect(trouble.remedy).toMatch(/^[a-z].{15,}$/);
    expect(host.connections()).toBe(connections);
  });

  it('refuses the connection: refused', async () => {
    const host = await world.host();
    await host.stop();
    const trouble = troubleIn(await run(targetAt(host), world.deps()));
    expect(trouble).toEqual({
      kind: 'refused',
      seen: `127.0.0.1 port ${host.port} refuses the connection: the host is up, and no SSH server listens there`,
      remedy: 'switch the SSH server on (on macOS: Remote Login), or correct the port',
    });
  });

  it('breaks off while keys are exchanged: server-busy', async () => {
    const server = createServer((socket) => {
      socket.on('error', () => undefined);
      socket.write('SSH-2.0-x\r\n');
      socket.once('data', () => socket.end());
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as { port: number };
    const target = {
      at: '127.0.0.1',
      atPort: port,
      access: { via: 'ssh', name: 'hosts' },
    } as const;
    const trouble = troubleIn(await run(target, world.deps()));
    server.close();
    expect(trouble.kind).toBe('server-busy');
    expect(trouble.seen).toBe(
      `127.0.0.1 port ${port} greets as SSH, but the exchange of keys broke off`,
    );
  });

  it('has a name that nobody knows: name-unknown', async () => {
    const deps = {
      ...world.deps(),
      lookup: async () => Promise.reject(Object.assign(new Error('x'), { code: 'ENOTFOUND' })),
    };
    const target = { at: 'vualt.office.example', access: { via: 'ssh', name: 'hosts' } } as const;
    expect(troubleIn(await run(target, deps))).toEqual({
      kind: 'name-unknown',
      seen: 'the name vualt.office.example leads to no address (ENOTFOUND)',
      remedy: 'correct the name in the intent, or give the address',
    });
  });

  it.each([
    ['-oProxyCommand=touch x', '"-oProxyCommand=touch x"'],
    ['$(reboot)', '"$(reboot)"'],
    ['vault office', '"vault office"'],
    ['vault;reboot', '"vault;reboot"'],
    ['', '""'],
  ])('has the name %j, which is none: name-unknown', async (at, shown) => {
    const target = { at, access: { via: 'ssh', name: 'hosts' } } as const;
    expect(troubleIn(await run(target, world.deps()))).toEqual({
      kind: 'name-unknown',
      seen: `${shown} is not a host name or address`,
      remedy: 'correct at: of the node',
    });
  });

  it('is stopped from outside: time-over', async () => {
    const host = await world.host({ vice: { is: 'silent' } });
    const stop = new AbortController();
    const going = sshRunner(targetAt(host), world.deps())('x', defaultReadLimits, stop.signal);
    while (host.connections() === 0) await new Promise((resolve) => setImmediate(resolve));
    stop.abort();
    expect(troubleIn(await going)).toMatchObject({ kind: 'time-over' });
  });
});

describe('a server of its own kind', () => {
  const knownFrom = (hostKey: string, port: number) => {
    const { type, base64 } = hostKeyOf(hostKey);
    writeFileSync(world.knownHosts, `[127.0.0.1]:${port} ${type} ${base64}\n`);
  };

  async function serve(
    onClient: (client: ssh2.Connection) => void,
    algorithms: ssh2.Algorithms = {},
  ) {
    const hostKey = makeKeyPair().private;
    const server = new ssh2.Server({ hostKeys: [hostKey], algorithms }, (client) => {
      client.on('error', () => undefined);
      onClient(client);
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', () => resolve()));
    const { port } = server.address() as { port: number };
    knownFrom(hostKey, port);
    const target = {
      at: '127.0.0.1',
      atPort: port,
      access: { via: 'ssh', name: 'hosts', user: 'auditor', password: 'PASSWORD' },
    } as const;
    const trouble = troubleIn(await run(target, world.deps(), { limits: shortLimits }));
    server.close();
    return { port, trouble };
  }

  it('knows only a method that is out of use: no-common-method', async () => {
    const kex = ['diffie-hellman-group1-sha1'] as const;
    const { port, trouble } = await serve(() => undefined, { kex: [...kex] });
    expect(trouble.kind).toBe('no-common-method');
    expect(trouble.seen).toMatch(
      `127.0.0.1 port ${port} and hopgauge have no method of SSH in common`,
    );
  });

  it('never answers a login: time-over', async () => {
    const { port, trouble } = await serve((client) => {
      client.on('authentication', () => undefined);
    });
    expect(trouble).toEqual({
      kind: 'time-over',
      seen: `the login at 127.0.0.1 port ${port} did not end in time`,
      remedy: 'a slow login is often a name server that the host waits for; raise the time limit',
    });
  });

  it('wants a new password: login-refused, and nothing is changed', async () => {
    let changed = false;
    const { trouble } = await serve((client) => {
      client.on('authentication', (context) => {
        if (context.method !== 'password') return context.reject(['password']);
        return context.requestChange('Your password has expired', () => {
          changed = true;
        });
      });
    });
    expect(trouble.kind).toBe('login-refused');
    expect(trouble.seen).toContain('the password has expired');
    expect(changed).toBe(false);
  });

  it('closes during the login without a word: login-refused', async () => {
    const { trouble } = await serve((client) => {
      client.on('authentication', (context) => {
        if (context.method === 'none') return context.reject(['password']);
        client.end();
        return undefined;
      });
    });
    expect(trouble.kind).toBe('login-refused');
    expect(trouble.seen).toContain('tried password PASSWORD');
    expect(trouble.seen).toContain('it closed the connection during the login');
  });

  it('asks for the password again and again in one dialogue: it is given once', async () => {
    const given: string[] = [];
    const { trouble } = await serve((client) => {
      client.on('authentication', (context) => {
        if (context.method !== 'keyboard-interactive') {
          return context.reject(['keyboard-interactive']);
        }
        const again = (answers: readonly string[]) => {
          given.push(...answers);
          if (given.length < 4) context.prompt({ prompt: 'Password: ', echo: false }, again);
          else context.reject(['keyboard-interactive']);
        };
        return context.prompt({ prompt: 'Password: ', echo: false }, again);
      });
    });
    expect(trouble.kind).toBe('login-refused');
    expect(given).toEqual([canary, '', '', '']);
  });
});

describe('reachTrouble', () => {
  const whither = { host: 'vault.office.example', port: 22, where: 'vault.office.example' };
  const addresses = [{ address: '198.18.20.5', family: 4 }];
  it.each([
    [
      'EHOSTUNREACH',
      'no-route',
      'there is no way to vault.office.example (198.18.20.5 port 22) (EHOSTUNREACH)',
    ],
    [
      'ENETUNREACH',
      'no-route',
      'there is no way to vault.office.example (198.18.20.5 port 22) (ENETUNREACH)',
    ],
    ['ETIMEDOUT', 'no-answer', 'vault.office.example (198.18.20.5 port 22) does not answer'],
    [
      'ECONNRESET',
      'no-answer',
      'no connection to vault.office.example (198.18.20.5 port 22) (ECONNRESET)',
    ],
  ])('%s is %s', (code, kind, seen) => {
    expect(reachTrouble(whither, addresses, code)).toMatchObject({ kind, seen });
  });
});

describe('a flood', () => {
  it('costs no more memory than its limit allows', async () => {
    const host = await world.host({ vice: { is: 'flood', on: 'stdout' } });
    world.trust(host);
    const limits = { ...defaultReadLimits, outputBytesMax: 256 * 1024 };
    const before = process.memoryUsage().arrayBuffers;
    const outcome = await run(targetAt(host), world.deps(), { limits });
    const grownBytes = process.memoryUsage().arrayBuffers - before;
    expect(troubleIn(outcome).kind).toBe('overlong');
    // The window of the channel (2 MiB in the library) on both sides, which live in this process.
    expect(grownBytes).toBeLessThan(32 * 1024 * 1024);
  });
});

it('shows the canary to the host alone', async () => {
  const { host, outcome } = await runAt({ answer: () => ({ stdout: 'in\n' }) });
  expect(host.attempts()).toEqual(['password auditor']);
  expect(JSON.stringify(outcome)).not.toContain(canary);
});
