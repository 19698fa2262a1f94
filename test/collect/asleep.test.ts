import { describe, expect, it } from 'vitest';
import { asleepTrouble } from '../../src/collect/asleep.ts';
import { reading } from '../drift/nights.ts';

const desk = { node: 'quay-sw', names: ['desk', 'xg2'] };

function readWith(operUp: boolean | undefined) {
  const facts = operUp === undefined ? {} : { operUp };
  return new Map([['quay-sw', reading({ ports: { xg2: facts } })]]);
}

describe('a node that may sleep', () => {
  it('is not asked while the other end of its link is down', () => {
    expect(asleepTrouble([desk], readWith(false))).toEqual({
      kind: 'asleep',
      seen: 'not asked: no link at quay-sw:desk, so that it sleeps or is away',
      remedy: 'nothing, while it may; wake it and run this again to read it',
    });
  });

  it.each([
    ['the other end is up', [desk], readWith(true)],
    ['the other end does not say', [desk], readWith(undefined)],
    ['the other end was not read', [desk], new Map()],
    ['the other end has no such port', [{ node: 'quay-sw', names: ['xg9'] }], readWith(false)],
    [
      'one of two other ends is not known to be down',
      [desk, { node: 'loft-sw', names: ['xg1'] }],
      readWith(false),
    ],
    ['it has no link', [], readWith(false)],
  ])('is asked where %s', (_, farPorts, read) => {
    expect(asleepTrouble(farPorts, read)).toBeUndefined();
  });
});
