import { describe, expect, it } from 'vitest';
import { tryDoor } from '../../../src/collect/ssh/door.ts';
import { makeSshDeps } from '../../../src/collect/ssh/make-ssh-deps.ts';
import type { SshTarget } from '../../../src/collect/ssh/ssh-target.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';

// A door of the system's ssh that is not even started: no step of it may be called well.

const access = { via: 'ssh', name: 'hosts', through: 'system', user: 'auditor' } as const;

interface Row {
  readonly name: string;
  readonly target?: Partial<SshTarget>;
  readonly refusals?: number;
  readonly failed: string;
  readonly kind: string;
}

const rows: readonly Row[] = [
  { name: 'no ssh on this machine', failed: 'login', kind: 'key-unusable' },
  {
    name: 'an account that three nodes refused',
    refusals: 3,
    failed: 'login',
    kind: 'credential-spent',
  },
  {
    name: 'a host key that ssh cannot be held to',
    target: { hostKey: 'SHA256:x' },
    failed: 'host key',
    kind: 'host-key-unknown',
  },
  {
    name: 'an account that would be an option',
    target: { access: { ...access, user: '-oProxyCommand=x' } },
    failed: 'login',
    kind: 'login-refused',
  },
];

describe("a door through the system's ssh, which was not started", () => {
  it.each(rows)('$name', async ({ target, refusals = 0, failed, kind }) => {
    const deps = makeSshDeps({
      own: { userName: 'auditor', home: '/nowhere' },
      env: { PATH: '/nowhere' },
      findSecret: async () => undefined,
    });
    for (let told = 0; told < refusals; told += 1)
      deps.ledger.tell("auditor by the system's ssh", 'refused');
    const { steps } = await tryDoor({ at: '127.0.0.1', access, ...target }, deps, {
      limits: defaultReadLimits,
      signal: new AbortController().signal,
    });
    expect(steps.filter(({ state }) => state !== 'not tried')).toMatchObject([
      { step: failed, state: 'failed', trouble: { kind } },
    ]);
  });
});
