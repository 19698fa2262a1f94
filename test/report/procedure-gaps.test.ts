import { describe, expect, it } from 'vitest';
import type { StateCost } from '../../src/change/types.ts';
import { gapSentences } from '../../src/report/procedure-gaps.ts';

const whole: StateCost = {
  pathsApart: 0,
  pathsCut: 0,
  pathsReduced: 0,
  clearanceLackBytes: 0,
  bounces: 0,
};
const best = 'No other order of these steps is better in its worst state.';

describe('gapSentences', () => {
  it.each([
    ['nothing', [whole, whole], [best]],
    ['one step', [whole], []],
    [
      'ends that no cord joins',
      [{ ...whole, pathsApart: 2 }, whole],
      ['From step 1 until step 2 is done, no cord joins 2 pairs of ends.', best],
    ],
    [
      'a stretch that ends',
      [whole, { ...whole, pathsCut: 1 }, { ...whole, pathsCut: 3 }, whole],
      [
        'From step 2 until step 4 is done, large packets are lost silently on 3 pairs of ends.',
        best,
      ],
    ],
    [
      'two stretches, the last never ends',
      [{ ...whole, pathsCut: 1 }, whole, { ...whole, pathsCut: 1 }],
      [
        'From step 1 until step 2 is done, large packets are lost silently on one pair of ends.',
        'From step 3 on, and still after the last step, large packets are lost silently on one pair of ends.',
        best,
      ],
    ],
    [
      'reduced and bouncing',
      [
        { ...whole, pathsReduced: 2, bounces: 1 },
        { ...whole, bounces: 2 },
      ],
      [
        'From step 1 until step 2 is done, 2 pairs of ends cannot use the declared packet: TCP agrees on a smaller one, large UDP and ICMP from the larger end may be lost.',
        'Steps 1, 2 take links down for a moment.',
        best,
      ],
    ],
  ])('%s', (_name, costs, sentences) => {
    expect(gapSentences({ steps: [], costs, exact: true, bound: whole }, whole)).toEqual(sentences);
  });

  it('says what bounds an order that was not searched whole', () => {
    const bound = { ...whole, pathsCut: 2 };
    expect(gapSentences({ steps: [], costs: [whole, whole], exact: false, bound }, whole)).toEqual([
      'Not every order was looked at; none can do better than 2 pairs of ends cut at its worst.',
    ]);
  });

  it('tells what was so before as that, and what was before of what moves', () => {
    const cut = { ...whole, pathsCut: 1 };
    const order = { steps: [], exact: true, bound: whole };
    expect(gapSentences({ ...order, costs: [cut, cut] }, cut)[0]).toBe(
      'As before the change and all the time, large packets are lost silently on one pair of ends.',
    );
    expect(gapSentences({ ...order, costs: [{ ...cut, pathsCut: 2 }, cut] }, cut)[0]).toBe(
      'From step 1 on, and still after the last step, large packets are lost silently on 2 pairs of ends (1 before the change).',
    );
  });
});
