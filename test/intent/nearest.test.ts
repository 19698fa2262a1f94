import { describe, expect, it } from 'vitest';
import { nearestWord, wordRemedy } from '../../src/intent/nearest.ts';

const keys = ['at', 'access', 'role', 'unread', 'nodes', 'snmp', 'mtu'];

describe('nearestWord', () => {
  it.each([
    ['acess', 'access'],
    ['noeds', 'nodes'],
    ['snpm', 'snmp'],
    ['Role', 'role'],
    ['att', 'at'],
    ['mut', undefined],
    ['xyz', undefined],
    ['x', undefined],
    ['', undefined],
    ['a'.repeat(1_000), undefined],
  ])('%j is meant to be %s', (word, expected) => {
    expect(nearestWord(word, keys)).toBe(expected);
  });
});

describe('wordRemedy', () => {
  it.each<readonly [string, readonly string[], string | undefined, string]>([
    ['ful', ['full', 'half'], undefined, "write 'full'"],
    ['x', ['full', 'half'], undefined, 'write one of full, half'],
    ['x', ['full', 'half'], 'declare it', 'declare it'],
    ['x', ['full'], undefined, "write 'full'"],
    ['x', [], undefined, 'remove it'],
    [
      'zzz',
      'abcdefghijklm'.split(''),
      undefined,
      'write one of a, b, c, d, e, f, g, h, i, j, k, l, ...',
    ],
  ])('%j of %j', (word, valid, otherwise, expected) => {
    expect(wordRemedy(word, valid, otherwise)).toBe(expected);
  });
});
