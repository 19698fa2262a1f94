import { describe, expect, it } from 'vitest';
import { breaksMore, noCost } from '../../src/change/state-cost.ts';

describe('breaksMore', () => {
  it.each([
    ['nothing on nothing', [0, 0], [0, 0], false],
    ['one cut', [0, 1], [0, 0], true],
    ['one apart', [1, 0], [0, 0], true],
    ['as many cut', [0, 2], [0, 2], false],
    ['fewer cut', [0, 1], [0, 2], false],
    ['one apart instead of cut', [1, 0], [0, 1], true],
    ['joined, and cut instead', [0, 1], [1, 0], false],
    ['one joined, and five others cut', [0, 5], [1, 0], true],
  ] as const)('%s: apart and cut %j after %j', (_, after, before, wanted) => {
    const cost = ([pathsApart, pathsCut]: readonly [number, number]) => {
      return { ...noCost, pathsApart, pathsCut, pathsReduced: 9 };
    };
    expect(breaksMore(cost(after), cost(before))).toBe(wanted);
  });
});
