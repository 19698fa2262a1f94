import { setMaxListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { inUserTurn } from '../../../src/collect/snmp/user-turn.ts';
import { createCredentialLedger } from '../../../src/collect/ssh/credential-ledger.ts';
import type { ReadOutcome } from '../../../src/collect/types.ts';
import type { Trouble, TroubleKind } from '../../../src/facts/trouble.ts';
import type { SnmpAccess } from '../../../src/intent/types.ts';

const user: SnmpAccess = {
  via: 'snmp',
  name: 'switches',
  version: '3',
  user: 'auditor',
  auth: 'sha256',
  privacy: 'aes128',
  secret: { auth: 'AUTH', privacy: 'PRIV' },
};
const community: SnmpAccess = { via: 'snmp', name: 'old', version: '2c', community: 'C' };

type Answer = TroubleKind | 'read';
const troubleOf = (answer: Answer): Trouble | undefined =>
  answer === 'read' ? undefined : { kind: answer, seen: 'seen', remedy: 'remedy' };

/** Agents asked one after another, or all at once; how each ended, and how many were asked. */
function agents(answers: readonly Answer[], access: SnmpAccess = user) {
  const ledger = createCredentialLedger();
  const { signal } = new AbortController();
  setMaxListeners(0, signal);
  const seen = { asked: 0, atOnce: 0, atOnceMax: 0 };
  const one = async (answer: Answer) => {
    const outcome = await inUserTurn(ledger, {
      access,
      signal,
      troubleOf,
      ask: async () => {
        seen.asked += 1;
        seen.atOnce += 1;
        seen.atOnceMax = Math.max(seen.atOnceMax, seen.atOnce);
        await new Promise(setImmediate);
        seen.atOnce -= 1;
        return answer;
      },
    });
    return typeof outcome === 'string' ? outcome : outcome.kind;
  };
  const inTurn = async () => {
    const ended: string[] = [];
    for (const answer of answers) ended.push(await one(answer));
    return ended;
  };
  return { seen, inTurn, atOnce: () => Promise.all(answers.map(one)) };
}

describe('the turn of an SNMP user', () => {
  const rows: readonly (readonly [string, readonly Answer[], readonly string[]])[] = [
    [
      'three wrong secrets are enough',
      ['auth-wrong', 'auth-wrong', 'auth-wrong', 'read'],
      ['auth-wrong', 'auth-wrong', 'auth-wrong', 'credential-spent'],
    ],
    [
      'every kind of refusal counts',
      ['user-unknown', 'level-too-low', 'auth-wrong', 'read'],
      ['user-unknown', 'level-too-low', 'auth-wrong', 'credential-spent'],
    ],
    [
      'silence is no refusal',
      ['silent', 'privacy-silent', 'garbled', 'silent', 'read'],
      ['silent', 'privacy-silent', 'garbled', 'silent', 'read'],
    ],
    [
      'who accepts it clears it',
      ['auth-wrong', 'auth-wrong', 'read', 'auth-wrong', 'auth-wrong', 'read'],
      ['auth-wrong', 'auth-wrong', 'read', 'auth-wrong', 'auth-wrong', 'read'],
    ],
  ];
  for (const [name, answers, ended] of rows) {
    it(name, async () => expect(await agents(answers).inTurn()).toEqual(ended));
  }

  it('is refused by three, however many agents there are to ask at once', async () => {
    const fifty = agents(Array<Answer>(50).fill('auth-wrong'));
    const ended = await fifty.atOnce();
    expect(ended.filter((kind) => kind === 'credential-spent')).toHaveLength(47);
    expect(fifty.seen.asked).toBe(3);
  });

  it('holds nobody back once an agent has accepted it', async () => {
    const fifty = agents(Array<Answer>(50).fill('read'));
    expect(new Set(await fifty.atOnce())).toEqual(new Set(['read']));
    expect(fifty.seen.atOnceMax).toBeGreaterThan(3);
  });

  it('is not counted for a community, whose refusal is silence', async () => {
    const many = agents(Array<Answer>(9).fill('auth-wrong'), community);
    expect(await many.atOnce()).toEqual(Array(9).fill('auth-wrong'));
    expect(many.seen.atOnceMax).toBe(9);
  });

  it('says that this agent was not asked, and keeps other users apart', async () => {
    const ledger = createCredentialLedger();
    const signal = new AbortController().signal;
    const ask = async () => 'auth-wrong' as const;
    const turn = (access: SnmpAccess) =>
      inUserTurn<Answer>(ledger, { access, signal, troubleOf, ask });
    for (let i = 0; i < 3; i += 1) expect(await turn(user)).toBe('auth-wrong');
    expect(await turn(user)).toEqual({
      kind: 'credential-spent',
      seen: 'user "auditor" was refused by several agents in this run and is not used again; this one was not asked',
      remedy: 'correct the access or its secrets, then run again',
    });
    expect(await turn({ ...user, secret: { auth: 'OTHER', privacy: 'PRIV' } })).toBe('auth-wrong');
  });

  it('waits for no agent that does not answer, and counts its late refusal', async () => {
    const ledger = createCredentialLedger();
    const signal = new AbortController().signal;
    const answer: ((kind: Answer) => void)[] = [];
    const turn = () =>
      inUserTurn<Answer>(ledger, {
        access: user,
        signal,
        troubleOf,
        waitMs: 0,
        ask: () => new Promise((resolve) => answer.push(resolve)),
      });
    const slow = [turn(), turn(), turn()];
    // The fourth is let through although none of the three has answered.
    const fourth = turn();
    while (answer.length < 4) await new Promise(setImmediate);
    for (const give of answer) give('auth-wrong');
    expect(await Promise.all([...slow, fourth])).toEqual(Array(4).fill('auth-wrong'));
    expect(await turn()).toMatchObject({ kind: 'credential-spent' });
  });

  it('ends with the run, and gives its turn back when a reader throws', async () => {
    const ledger = createCredentialLedger();
    const stop = new AbortController();
    const failing = () =>
      inUserTurn<ReadOutcome>(ledger, {
        access: user,
        signal: stop.signal,
        troubleOf: () => undefined,
        ask: () => Promise.reject(new Error('reader')),
      });
    for (let i = 0; i < 5; i += 1) await expect(failing()).rejects.toThrow('reader');
    stop.abort();
    expect(await failing()).toMatchObject({ kind: 'time-over' });
  });
});
