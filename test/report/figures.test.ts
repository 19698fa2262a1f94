import { describe, expect, it } from 'vitest';
import { offWords, rounded, threeUnits } from '../../src/report/figures.ts';
import { noBreak } from '../../src/report/layout.ts';

describe('numbers of a reckoning', () => {
  it.each([
    [9414.824, 1, '9414.8'],
    [1500, 3, '1500'],
    [0.0004, 3, '0'],
    [0.1 + 0.2, 6, '0.3'],
    [23_537_061_118, 2, '23537061118'],
  ])('%d with %i decimals', (value, decimals, text) => {
    expect(rounded(value, decimals)).toBe(text);
  });

  it('are told in all three units, each in one piece', () => {
    const text = threeUnits(941.4824);
    expect(text.replaceAll(noBreak, ' ')).toBe('941.482 Mb/s = 117.69 MB/s = 112.23 MiB/s');
    expect(text.split(' ')).toHaveLength(5);
  });

  it.each([
    [-0.0005, 'measured 0.05 % less'],
    [0.012, 'measured 1.2 % more'],
    [0, 'measured the same'],
    [-0.00004, 'measured the same'],
  ])('%d off', (share, words) => {
    expect(offWords(share)).toBe(words);
  });
});
