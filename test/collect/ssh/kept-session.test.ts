import { expect, it } from 'vitest';
import { makeSshDeps } from '../../../src/collect/ssh/make-ssh-deps.ts';
import { openSession } from '../../../src/collect/ssh/open-session.ts';
import { startClock } from '../../../src/collect/ssh/run-clock.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';

it("keeps no connection by the system's ssh, and says what to do before it reaches anybody", async () => {
  const deps = makeSshDeps({
    own: { userName: 'auditor', home: '/nowhere' },
    env: {},
    findSecret: async () => undefined,
    locate: () => {
      throw new Error('somebody was looked for');
    },
  });
  const access = { via: 'ssh', name: 'hosts', through: 'system' } as const;
  const clock = startClock(defaultReadLimits, new AbortController().signal);
  const opened = await openSession({ target: { at: 'vault', access }, deps, clock, waiting: [] });
  clock.stop();
  expect(opened).toMatchObject({
    ok: false,
    trouble: {
      kind: 'login-refused',
      seen: expect.stringContaining("vault is logged in to by the system's ssh"),
      remedy: expect.stringContaining('without through: system'),
    },
  });
});
