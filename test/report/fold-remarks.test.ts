import { describe, expect, it } from 'vitest';
import type { ChangeRemark } from '../../src/change/types.ts';
import { foldRemarks } from '../../src/report/fold-remarks.ts';

const remark = (on: string, what: string, more: Partial<ChangeRemark> = {}): ChangeRemark => ({
  kind: 'unknown',
  on,
  what,
  ...more,
});

describe('foldRemarks', () => {
  it.each<[string, ChangeRemark[], ChangeRemark[]]>([
    ['nothing', [], []],
    ['one alone', [remark('a', 'has no run')], [remark('a', 'has no run')]],
    [
      'two that say the same, where the first stood',
      [remark('a', 'is late'), remark('b', 'has no run'), remark('c', 'is late')],
      [remark('a and c', 'are late'), remark('b', 'has no run')],
    ],
    [
      'two kinds, two remedies',
      [
        remark('a', 'has no run'),
        remark('b', 'has no run', { kind: 'caution' }),
        remark('c', 'has no run', { remedy: 'declare it' }),
      ],
      [
        remark('a', 'has no run'),
        remark('b', 'has no run', { kind: 'caution' }),
        remark('c', 'has no run', { remedy: 'declare it' }),
      ],
    ],
    [
      'words of which no plural is known',
      [remark('a', 'goes over b'), remark('c', 'goes over b')],
      [remark('a', 'goes over b'), remark('c', 'goes over b')],
    ],
    [
      'five by name',
      [1, 2, 3, 4, 5].map((n) => remark(`a${n}`, 'wants more')),
      [remark('a1, a2, a3, a4 and a5', 'want more')],
    ],
    [
      'a sixth counted',
      [1, 2, 3, 4, 5, 6].map((n) => remark(`a${n}`, 'wants more')),
      [remark('a1, a2, a3, a4, a5 and 1 more', 'want more')],
    ],
  ])('%s', (_, remarks, folded) => {
    expect(foldRemarks(remarks)).toEqual(folded);
  });
});
