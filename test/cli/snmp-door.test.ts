import { describe, expect, it } from 'vitest';
import { failedAt, failedStep } from '../../src/cli/snmp-door.ts';
import { snmpTarget } from '../../src/cli/snmp-target.ts';
import type { FailureKind } from '../../src/collect/snmp/failure.ts';
import type { Secret } from '../../src/collect/types.ts';
import type { Trouble, TroubleKind } from '../../src/facts/trouble.ts';
import type { SnmpAccess } from '../../src/intent/types.ts';

const trouble = (kind: TroubleKind): Trouble => ({ kind, seen: 'seen', remedy: 'remedy' });

describe('the step of a failed trial', () => {
  const rows: readonly (readonly [FailureKind, TroubleKind, string])[] = [
    ['timeout', 'silent', 'reach'],
    ['timeout', 'privacy-silent', 'privacy'],
    ['unsendable', 'no-route', 'reach'],
    ['garbled', 'garbled', 'reach'],
    ['user-unknown', 'user-unknown', 'user'],
    ['auth-wrong', 'auth-wrong', 'auth'],
    ['privacy-wrong', 'auth-wrong', 'privacy'],
    ['level-too-low', 'level-too-low', 'auth'],
    ['clock', 'clock-lost', 'auth'],
  ];
  for (const [kind, seen, step] of rows) {
    it(`${kind} as ${seen}: ${step}`, () => {
      expect(failedStep({ kind, words: '' }, trouble(seen))).toBe(step);
    });
  }

  it('leaves what comes after untried', () => {
    const fault = trouble('user-unknown');
    expect(failedAt(['name', 'user', 'auth'], 'user', fault)).toEqual([
      { step: 'name', state: 'ok' },
      { step: 'user', state: 'failed', trouble: fault },
      { step: 'auth', state: 'not tried' },
    ]);
  });
});

describe('the target of an access', () => {
  const place = { address: '198.18.20.2' };
  const secrets: Readonly<Record<string, Secret>> = {
    AUTH: { reveal: () => 'reeds-at-low-tide' },
    PRIV: { reveal: () => 'samphire-in-june' },
  };
  const find = async (name: string) => secrets[name];
  const user: SnmpAccess = {
    via: 'snmp',
    name: 'switches',
    version: '3',
    user: 'auditor',
    auth: 'sha256',
    privacy: 'aes128',
    secret: { auth: 'AUTH', privacy: 'PRIV' },
  };

  it('has what the access names', async () => {
    expect(await snmpTarget(user, place, find)).toEqual({
      ok: true,
      target: {
        address: '198.18.20.2',
        version: '3',
        user: 'auditor',
        auth: { protocol: 'sha256', secret: secrets['AUTH'] },
        privacy: { protocol: 'aes128', secret: secrets['PRIV'] },
      },
    });
  });

  const missing: readonly (readonly [string, SnmpAccess, string])[] = [
    ['auth', { ...user, secret: { auth: 'NONE', privacy: 'PRIV' } }, 'nobody has the secret NONE'],
    ['privacy', { ...user, secret: { auth: 'AUTH' } }, 'the access names no secret'],
    [
      'community',
      { via: 'snmp', name: 'old', version: '2c', community: 'NONE' },
      'nobody has the secret NONE',
    ],
  ];
  for (const [name, access, seen] of missing) {
    it(`is trouble without the secret of ${name}`, async () => {
      const made = await snmpTarget(access, place, find);
      expect(made.ok ? undefined : made.trouble).toMatchObject({ kind: 'secret-missing', seen });
    });
  }
});
