import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SshHostOptions } from '../../../mocks/ssh-host/ssh-host.ts';
import { type DoorReport, tryDoor } from '../../../src/collect/ssh/door.ts';
import { appendKnownHost } from '../../../src/collect/ssh/known-hosts-file.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';
import { canary, makeWorld, type SshWorld, shortLimits, targetAt } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

const forThisRun = { limits: defaultReadLimits, signal: new AbortController().signal };

const states = (report: DoorReport) => report.steps.map(({ step, state }) => `${step}: ${state}`);

/** Runs the script as a shell would, as far as `echo` goes. */
const echo = (script: string) => ({ stdout: script.replace(/^echo /, '') });

interface DoorRow {
  readonly name: string;
  readonly options: SshHostOptions;
  readonly states: readonly string[];
  readonly kind?: string;
  readonly short?: boolean;
}

const rows: readonly DoorRow[] = [
  {
    name: 'open',
    options: { answer: echo },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: ok', 'shell: ok'],
  },
  {
    name: 'open, in a real shell',
    options: { shell: true },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: ok', 'shell: ok'],
  },
  {
    name: 'open, with a noisy start file',
    options: { answer: echo, vice: { is: 'noisy-start', says: 'Welcome to vault\n' } },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: ok', 'shell: ok'],
  },
  {
    name: 'silent',
    options: { vice: { is: 'silent' } },
    states: [
      'name: ok',
      'reach: failed',
      'host key: not tried',
      'login: not tried',
      'shell: not tried',
    ],
    kind: 'no-answer',
    short: true,
  },
  {
    name: 'a password that is refused',
    options: { login: { password: 'another' } },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: failed', 'shell: not tried'],
    kind: 'login-refused',
  },
  {
    name: 'no shell',
    options: { vice: { is: 'no-shell', code: 1, says: 'no logins' } },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: ok', 'shell: failed'],
    kind: 'shell-refused',
  },
  {
    name: 'a menu instead of a shell',
    options: { answer: () => ({ stdout: '1) ports\n2) log out\n' }) },
    states: ['name: ok', 'reach: ok', 'host key: ok', 'login: ok', 'shell: failed'],
    kind: 'shell-refused',
  },
];

describe('tryDoor', () => {
  it.each(rows)('$name', async ({ options, states: wanted, kind, short }) => {
    const host = await world.host(options);
    world.trust(host);
    const limits = short ? shortLimits : defaultReadLimits;
    const report = await tryDoor(targetAt(host), world.deps(), { ...forThisRun, limits });
    expect(states(report)).toEqual(wanted);
    const failed = report.steps.flatMap((step) => (step.state === 'failed' ? [step.trouble] : []));
    expect(failed.map((trouble) => trouble.kind)).toEqual(kind === undefined ? [] : [kind]);
    expect(host.connections()).toBe(1);
    expect(JSON.stringify(report)).not.toContain(canary);
  });

  it('quotes what a menu printed', async () => {
    const host = await world.host({ answer: () => ({ stdout: '1) ports\n2) log out\n' }) });
    world.trust(host);
    const report = await tryDoor(targetAt(host), world.deps(), forThisRun);
    expect(report.hostKey).toBe(host.fingerprint);
    expect(report.steps[4]).toMatchObject({
      trouble: {
        seen: '127.0.0.1 let the user in, but its shell does not run what it is sent: it printed "1) ports 2) log out"',
      },
    });
  });

  it('passes with a forced command that runs the script of the reader', async () => {
    const host = await world.host({ answer: () => ({ stdout: 'marks of the reader\n' }) });
    world.trust(host);
    const trial = {
      script: 'ignored\n',
      ran: (output: Uint8Array) => Buffer.from(output).includes('marks'),
    };
    const report = await tryDoor(targetAt(host), world.deps(), { ...forThisRun, trial });
    expect(states(report)).toContain('shell: ok');
  });

  it('offers an unknown key from the one refused connection; recorded, the door opens', async () => {
    const host = await world.host({ answer: echo });
    const deps = world.deps();
    const first = await tryDoor(targetAt(host), deps, forThisRun);
    expect(states(first)).toEqual([
      'name: ok',
      'reach: ok',
      'host key: failed',
      'login: not tried',
      'shell: not tried',
    ]);
    expect(first.offer).toEqual({
      keyType: 'ssh-ed25519',
      fingerprint: host.fingerprint,
      line: host.hostKeyLines[0],
      file: world.knownHosts,
    });
    expect([host.connections(), host.attempts()]).toEqual([1, []]);
    await appendKnownHost(first.offer?.file ?? '', first.offer?.line ?? '');
    const second = await tryDoor(targetAt(host), deps, forThisRun);
    expect(states(second)).toContain('shell: ok');
    expect(readFileSync(world.knownHosts, 'utf8')).toBe(`${host.hostKeyLines[0]}\n`);
  });

  it('offers nothing where another key is recorded', async () => {
    const [old, host] = [await world.host(), await world.host()];
    world.trust({
      ...old,
      hostKeyLines: old.hostKeyLines.map((line) =>
        line.replace(String(old.port), String(host.port)),
      ),
    });
    const report = await tryDoor(targetAt(host), world.deps(), forThisRun);
    expect(report.offer).toBeUndefined();
    expect(report.steps[2]).toMatchObject({
      state: 'failed',
      trouble: { kind: 'host-key-changed' },
    });
  });
});
