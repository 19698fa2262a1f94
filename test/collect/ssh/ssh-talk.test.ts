import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SshHostOptions } from '../../../mocks/ssh-host/ssh-host.ts';
import { sshTalker } from '../../../src/collect/ssh/ssh-talk.ts';
import { makeWorld, type SshWorld, targetAt } from './ssh-world.ts';

let world: SshWorld;
beforeEach(() => {
  world = makeWorld();
});
afterEach(() => world.clean());

async function talkWith(options: SshHostOptions, signal = new AbortController().signal) {
  const host = await world.host(options);
  world.trust(host);
  const open = sshTalker(targetAt(host), world.deps());
  const onOutput = () => undefined;
  return { host, outcome: await open({ script: 'cat\n', onOutput, signal }) };
}

describe('a talk over SSH', () => {
  it('is none where the host runs no shell, in the words of the host', async () => {
    const { outcome } = await talkWith({ vice: { is: 'refuse-exec' } });
    expect(outcome).toMatchObject({
      ok: false,
      trouble: {
        kind: 'shell-refused',
        seen: '127.0.0.1 let the user in and refused to run `sh -s`: "Unable to exec"',
      },
    });
  });

  it('ends as soon as it is stopped, whatever the host does', async () => {
    const stop = new AbortController();
    const { outcome } = await talkWith({ vice: { is: 'hang' } }, stop.signal);
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    stop.abort();
    expect(await outcome.talk.ended).toBe('stopped');
  });

  it('ends with a login shell that turns everyone away, and keeps what it said', async () => {
    const says = 'This account is not available.\n';
    const { outcome } = await talkWith({ vice: { is: 'no-shell', code: 1, says } });
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    expect(await outcome.talk.ended).toBe('ended');
    expect(outcome.talk.complaint()).toBe(says);
  });

  it('is lost with its connection', async () => {
    const { host, outcome } = await talkWith({ vice: { is: 'hang' } });
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    await host.stop();
    expect(await outcome.talk.ended).toBe('lost');
  });
});
