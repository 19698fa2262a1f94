import { afterEach, describe, expect, it } from 'vitest';
import type { AgentUser } from '../../../mocks/snmp-agent/security.ts';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import type { Vice } from '../../../mocks/snmp-agent/vices.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import type { UserTarget } from '../../../src/collect/snmp/target.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import type { AuthProtocol, PrivacyProtocol } from '../../../src/intent/types.ts';
import { limits, patientTiming, plainSwitch, quickTiming, secret } from './quay-switch.ts';

const authSecret = 'harbour-lights';
const privacySecret = 'salt-and-tide';

let agent: RunningAgent | undefined;
afterEach(async () => {
  await agent?.stop();
  agent = undefined;
});

function user(auth?: AuthProtocol, privacy?: PrivacyProtocol): AgentUser {
  return {
    name: 'auditor',
    ...(auth === undefined ? {} : { auth: { protocol: auth, secret: authSecret } }),
    ...(privacy === undefined ? {} : { privacy: { protocol: privacy, secret: privacySecret } }),
  };
}

/** Asks a simulated agent that knows `known`; `change` is what the operator has wrong. */
async function ask(known: AgentUser, change: Partial<UserTarget> = {}, vice?: Vice, context = '') {
  agent = await startAgent({
    switch: plainSwitch(3),
    users: [known],
    context,
    ...(vice === undefined ? {} : { vice }),
  });
  const { auth, privacy } = known;
  const target: UserTarget = {
    address: agent.address,
    port: agent.port,
    version: '3',
    user: known.name,
    timing: vice === 'hangs' || 'privacy' in change ? quickTiming : patientTiming,
    ...(auth ? { auth: { protocol: auth.protocol, secret: secret(auth.secret) } } : {}),
    ...(privacy ? { privacy: { protocol: privacy.protocol, secret: secret(privacy.secret) } } : {}),
    ...change,
  };
  return readSnmp(target, { peers: [], topics: everyTopic }, limits, new AbortController().signal);
}

const sealed = user('sha256', 'aes128');
const wrong = secret('not-this-one');

describe('readSnmp with SNMPv3', () => {
  it.each<[AuthProtocol | undefined, PrivacyProtocol | undefined]>([
    [undefined, undefined],
    ['md5', undefined],
    ['sha', undefined],
    ['sha', 'aes128'],
    ['sha224', 'aes128'],
    ['sha256', 'aes128'],
    ['sha384', 'aes256'],
    ['sha512', 'aes256'],
    ['sha256', 'aes256-blumenthal'],
  ])('reads with auth %s and privacy %s', async (auth, privacy) => {
    const outcome = await ask(user(auth, privacy));
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    expect(outcome.reading.facts.engineId).toBe('80007ed90402005e0001');
    expect(outcome.reading.ports.map(({ facts }) => facts.mtuBytes)).toEqual([9216, 9216, 9216]);
  });

  it.each<[string, AgentUser, Partial<UserTarget>, string, string]>([
    ['unknown user', sealed, { user: 'nobody' }, 'user-unknown', 'does not know user "nobody"'],
    [
      'wrong auth secret',
      sealed,
      { auth: { protocol: 'sha256', secret: wrong } },
      'auth-wrong',
      'reports a wrong digest for user "auditor"',
    ],
    [
      'wrong auth protocol',
      sealed,
      { auth: { protocol: 'sha512', secret: secret(authSecret) } },
      'auth-wrong',
      'reports a wrong digest for user "auditor"',
    ],
    [
      'wrong privacy secret',
      sealed,
      { privacy: { protocol: 'aes128', secret: wrong } },
      'privacy-silent',
      'answered discovery but not the request',
    ],
    [
      'auth that the node does not have',
      user(),
      { auth: { protocol: 'sha256', secret: wrong } },
      'level-too-low',
      'reports an unsupported security level for user "auditor"',
    ],
  ])('%s', async (_, known, change, kind, words) => {
    const outcome = await ask(known, change);
    if (outcome.ok) throw new Error('read');
    expect(outcome.trouble.kind).toBe(kind);
    expect(outcome.trouble.seen).toContain(words);
    for (const text of [authSecret, privacySecret, wrong.reveal()]) {
      expect(JSON.stringify(outcome)).not.toContain(text);
    }
  });

  it('says that the level is too low when protection is left out', async () => {
    agent = await startAgent({ switch: plainSwitch(1), users: [sealed] });
    const outcome = await readSnmp(
      {
        address: agent.address,
        port: agent.port,
        version: '3',
        user: 'auditor',
        timing: quickTiming,
      },
      { peers: [], topics: everyTopic },
      limits,
      new AbortController().signal,
    );
    expect(outcome).toMatchObject({
      ok: false,
      trouble: {
        kind: 'level-too-low',
        seen: `the agent at 127.0.0.1 port ${agent.port} answered authorizationError for user "auditor"`,
      },
    });
  });

  it('knows silence before discovery from silence after it', async () => {
    const before = await ask(sealed, {}, 'hangs');
    expect(before).toMatchObject({ ok: false, trouble: { kind: 'silent' } });
    expect(!before.ok && before.trouble.seen).toContain('no answer to the discovery of SNMPv3');
  });

  it('reads in a context, and meets silence without it', async () => {
    const within = await ask(user('sha256'), { context: 'storage' }, undefined, 'storage');
    expect(within.ok).toBe(true);
    await agent?.stop();
    const without = await ask(user('sha256'), { timing: quickTiming }, undefined, 'storage');
    expect(without).toMatchObject({
      ok: false,
      trouble: { kind: 'silent', remedy: expect.stringContaining('check the context') },
    });
  });

  it('makes a session anew when the agent has restarted, once', async () => {
    const outcome = await ask(sealed, {}, 'restarts-once');
    expect(outcome.ok && outcome.reading.ports).toHaveLength(3);
  });

  it('gives up on an agent whose clock never fits', async () => {
    const outcome = await ask(sealed, {}, 'clock-lost');
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'clock-lost' } });
    // Discovery and request, twice.
    expect(agent?.requests()).toBe(4);
  });

  it('takes no unsigned answer to a signed request', async () => {
    const outcome = await ask(sealed, {}, 'unsigned');
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'garbled' } });
    expect(!outcome.ok && outcome.trouble.seen).toContain('without the protection');
  });

  it.each<[string, Partial<UserTarget>, string]>([
    [
      'a short secret',
      { auth: { protocol: 'sha256', secret: secret('short') } },
      'the secret of auth is shorter than 8 characters',
    ],
    [
      'DES, which OpenSSL 3 has switched off',
      { privacy: { protocol: 'des', secret: secret(privacySecret) } },
      'this Node.js has DES switched off; use aes128 or aes256 on the node',
    ],
  ])('sends nothing with %s', async (_, change, seen) => {
    const outcome = await ask(sealed, change);
    expect(outcome).toMatchObject({ ok: false, trouble: { kind: 'key-unusable', seen } });
    expect(agent?.requests()).toBe(0);
  });
});
