import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  admit,
  createCredentialLedger,
  freshRecord,
  type OfferEnd,
  refusalsMax,
  settle,
} from '../../../src/collect/ssh/credential-ledger.ts';

const never = new AbortController().signal;

describe('admit', () => {
  it.each([
    ['fresh', { refusals: 0, inFlight: 0, accepted: false }, 'go'],
    ['two out', { refusals: 0, inFlight: 2, accepted: false }, 'go'],
    ['three out, none accepted yet', { refusals: 0, inFlight: 3, accepted: false }, 'wait'],
    ['one refused, two out', { refusals: 1, inFlight: 2, accepted: false }, 'wait'],
    ['accepted, many out', { refusals: 2, inFlight: 40, accepted: true }, 'go'],
    ['refused three times', { refusals: 3, inFlight: 0, accepted: false }, 'spent'],
    [
      'refused three times since it was accepted',
      { refusals: 3, inFlight: 0, accepted: true },
      'spent',
    ],
  ] as const)('%s', (_name, record, answer) => {
    expect(admit(record)).toBe(answer);
  });
});

describe('settle', () => {
  it.each([
    ['accepted', { refusals: 0, inFlight: 0, accepted: true }],
    ['refused', { refusals: 3, inFlight: 0, accepted: false }],
    ['unanswered', { refusals: 2, inFlight: 0, accepted: false }],
  ] as const)('%s', (end, after) => {
    expect(settle({ refusals: 2, inFlight: 1, accepted: false }, end)).toEqual(after);
  });
});

describe('the ledger', () => {
  it('never lets a credential that nobody accepts be refused more than three times', async () => {
    const choices = fc.array(fc.constantFrom<OfferEnd>('refused', 'unanswered'), { maxLength: 40 });
    await fc.assert(
      fc.asyncProperty(choices, async (ends) => {
        const ledger = createCredentialLedger();
        let refused = 0;
        await Promise.all(
          ends.map(async (end) => {
            if (!(await ledger.ask('key', never))) return;
            await Promise.resolve();
            if (end === 'refused') refused += 1;
            ledger.tell('key', end);
          }),
        );
        expect(refused).toBe(Math.min(refusalsMax, ends.filter((end) => end === 'refused').length));
      }),
    );
  });

  it('keeps credentials apart', async () => {
    const ledger = createCredentialLedger();
    for (let turn = 0; turn < 3; turn += 1) {
      expect(await ledger.ask('one', never)).toBe(true);
      ledger.tell('one', 'refused');
    }
    expect([await ledger.ask('one', never), await ledger.ask('two', never)]).toEqual([false, true]);
  });

  it('counts what is blamed later', async () => {
    const ledger = createCredentialLedger();
    for (let turn = 0; turn < 3; turn += 1) {
      expect(await ledger.ask('key', never)).toBe(true);
      ledger.tell('key', 'unanswered');
      ledger.blame('key');
    }
    expect(await ledger.ask('key', never)).toBe(false);
  });

  it('lets nobody wait beyond their signal', async () => {
    const ledger = createCredentialLedger();
    for (let turn = 0; turn < 3; turn += 1) await ledger.ask('key', never);
    const stop = new AbortController();
    const asked = ledger.ask('key', stop.signal);
    stop.abort();
    expect(await asked).toBe(false);
  });

  it('starts from nothing', () => {
    expect(freshRecord).toEqual({ refusals: 0, inFlight: 0, accepted: false });
  });
});
