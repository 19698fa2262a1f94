import { format, inspect } from 'node:util';
import { describe, expect, it } from 'vitest';
import { makeSecret } from '../../../src/collect/secrets/secret.ts';

const canary = 'canary-77-ebb';

describe('a secret', () => {
  const secret = makeSecret(canary);
  it('reveals itself when asked', () => {
    expect(secret.reveal()).toBe(canary);
  });

  it.each([
    ['in a template', () => `${secret}`],
    ['joined', () => ['a', secret].join()],
    ['added', () => `${'x'}${String(secret)}`],
    ['as JSON', () => JSON.stringify({ secret })],
    ['inspected', () => inspect({ secret }, { depth: 9, showHidden: true })],
    ['formatted', () => format('%s %o %O %j', secret, secret, secret, secret)],
    ['as an error', () => String(new Error(`no login with ${secret}`))],
    [
      'by its parts',
      () => JSON.stringify(Object.entries(Object.getOwnPropertyDescriptors(secret))),
    ],
    ['as its source', () => String(secret.reveal)],
    ['copied', () => JSON.stringify({ ...secret })],
  ])('shows nothing of itself %s', (_how, show) => {
    expect(show()).not.toContain(canary);
  });

  it('shows a mask instead', () => {
    expect([`${secret}`, JSON.stringify(secret), inspect(secret)]).toEqual([
      '[secret]',
      '"[secret]"',
      '[secret]',
    ]);
  });
});
