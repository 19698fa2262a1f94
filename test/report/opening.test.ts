import { describe, expect, it } from 'vitest';
import { load, opening, standOf } from '../../src/report/opening.ts';
import type { HopClearance } from '../../src/site/types.ts';

const exactly = (bytes: number): HopClearance => ({
  atLeastBytes: bytes,
  atMostBytes: bytes,
  onWord: false,
});
const rows: readonly [string, HopClearance, number | undefined, string, string][] = [
  ['the declared packet', exactly(9000), 9000, 'passes', '[          9000          ]'],
  ['more than declared', exactly(9198), 9000, 'passes', '[          9198          ]'],
  ['a sixth', exactly(1500), 9000, 'too small', '=========[ 1500 ]========='],
  ['half', exactly(4500), 9000, 'too small', '======[    4500    ]======'],
  ['one byte short', exactly(8999), 9000, 'too small', '[          8999          ]'],
  [
    'a range around it',
    { atLeastBytes: 8978, atMostBytes: 9000, onWord: false },
    9000,
    'not settled',
    '[::::: 8978 to 9000 :::::]',
  ],
  [
    'only a lower bound, too low',
    { atLeastBytes: 1500, onWord: false },
    9000,
    'not settled',
    '[::::: 1500 or more :::::]',
  ],
  [
    'on the word of the owner',
    { atLeastBytes: 9198, atMostBytes: 9198, onWord: true },
    9000,
    'passes',
    '(          9198          )',
  ],
  ['nothing known', { onWord: false }, 9000, 'not known', '[?????? not known ???????]'],
  [
    'link down',
    { onWord: false, gap: { reason: 'down', words: 'no carrier' } },
    9000,
    'not known',
    '[????????? down ?????????]',
  ],
  ['no demand', exactly(1500), undefined, 'no demand', '[          1500          ]'],
];

describe('an opening', () => {
  for (const [name, clearance, demand, stand, drawn] of rows) {
    it(`${name}: ${stand}`, () => {
      const found = standOf(clearance, demand);
      expect(found).toBe(stand);
      expect(opening(clearance, found, { columns: 26, fullBytes: demand })).toBe(drawn);
    });
  }

  it('has the measure of the load', () => {
    expect(load(9000, 26)).toBe('<--------- 9000 --------->');
  });
});
