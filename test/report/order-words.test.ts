import { describe, expect, it } from 'vitest';
import { noCost } from '../../src/change/state-cost.ts';
import type { ArrivingDevice, Disturbance, StateCost } from '../../src/change/types.ts';
import { orderWords } from '../../src/report/order-words.ts';
import { step } from '../change/advice/samples.ts';

const cut = (pathsCut: number, pathsApart = 0): StateCost => ({ ...noCost, pathsCut, pathsApart });

interface Told {
  readonly start?: StateCost;
  readonly costs: readonly StateCost[];
  readonly bound?: StateCost;
  readonly exact?: boolean;
  /** By number of the step. */
  readonly disturbs?: Readonly<Record<number, Disturbance>>;
}

const words = ({ start = noCost, costs, bound = noCost, exact = true, disturbs = {} }: Told) => {
  const steps = costs.map((_, at) =>
    step({ node: 'quay-sw', disturbs: disturbs[at + 1] ?? 'link-bounce' }),
  );
  return orderWords({ steps, costs, exact, bound }, start);
};

const asNode = { setting: 'node' as const, to: 'a spare' };

const unsure =
  'whether another order does better is not known, since there are too many steps to look at all orders';

describe('an order in words', () => {
  it.each([
    [
      'whole all the way',
      { costs: [noCost, noCost] },
      'no pair of ends is apart or loses large packets at a hop in the middle at any step; of all orders this one is best',
      false,
    ],
    [
      'whole all the way, not all orders looked at',
      { costs: [noCost, noCost], exact: false },
      'no pair of ends is apart or loses large packets at a hop in the middle at any step; other orders may be as good',
      false,
    ],
    [
      'as bad before, and mended',
      { start: cut(2), costs: [cut(2), cut(1), noCost, noCost], bound: cut(2) },
      'no step cuts more pairs of ends than now: 2 pairs of ends lose large packets silently at a hop in the middle; mended from step 3 on',
      false,
    ],
    [
      'bad before, and mended by the first step',
      { start: cut(1), costs: [noCost] },
      'no step cuts more pairs of ends than now: 1 pair of ends loses large packets silently at a hop in the middle; mended from step 1 on',
      false,
    ],
    [
      'bad before, mended and as bad again, then mended for good',
      { start: cut(1), costs: [noCost, cut(1), noCost], bound: cut(1) },
      'no step cuts more pairs of ends than now: 1 pair of ends loses large packets silently at a hop in the middle; mended from step 3 on',
      false,
    ],
    [
      'not joined before, joined and cut, then mended',
      { start: cut(0, 2), costs: [cut(2), noCost], bound: cut(2) },
      'no step cuts more pairs of ends than now: 2 pairs of ends not joined by any cord; mended from step 2 on',
      false,
    ],
    [
      'as bad before and after',
      { start: cut(2), costs: [cut(2), cut(1)], bound: cut(2) },
      'no step cuts more pairs of ends than now: 2 pairs of ends lose large packets silently at a hop in the middle; still after the last step 1 pair of ends loses large packets silently at a hop in the middle',
      true,
    ],
    [
      'a gap that no order avoids',
      { costs: [noCost, cut(1), cut(3), noCost], bound: cut(3) },
      'no order keeps every path whole: from step 2 until step 4 is done (3 steps) at worst 3 pairs of ends lose large packets silently at a hop in the middle; plan for a gap',
      true,
    ],
    [
      'a gap in which nodes restart and are replaced',
      {
        costs: [cut(0, 2), noCost, noCost, cut(1), cut(1), noCost],
        bound: cut(0, 2),
        disturbs: { 1: 'node-out', 3: 'node-reload', 4: 'node-reload', 6: 'node-reload' },
      },
      'no order keeps every path whole: from step 1 until step 2 is done (2 steps) 2 pairs of ends not joined by any cord; from step 4 until step 6 is done (3 steps) at worst 1 pair of ends loses large packets silently at a hop in the middle; it has a new device in place of quay-sw (step 1) and a restart of quay-sw (step 4, 6): how long that takes is not known; plan for a gap',
      true,
    ],
    [
      'a gap that lasts',
      { costs: [noCost, cut(1)], bound: cut(1) },
      'no order keeps every path whole: from step 2 on, and still after the last one (1 step), 1 pair of ends loses large packets silently at a hop in the middle; plan for a gap',
      true,
    ],
    [
      'a gap that another order may avoid',
      { costs: [cut(1), noCost], exact: false },
      `this order does not keep every path whole: from step 1 until step 2 is done (2 steps) 1 pair of ends loses large packets silently at a hop in the middle; ${unsure}; plan for a gap`,
      true,
    ],
    [
      'bad before, and worse whatever the order',
      { start: cut(1), costs: [cut(1), cut(2), noCost], bound: cut(2) },
      'every order cuts more pairs of ends at some step than now: from step 2 until step 3 is done (2 steps) 2 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends loses large packets silently at a hop in the middle; plan for a gap',
      true,
    ],
    [
      'bad before, and worse in this order',
      { start: cut(1), costs: [cut(2), noCost], bound: cut(1), exact: false },
      `this order cuts more pairs of ends at some step than now: from step 1 until step 2 is done (2 steps) 2 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends loses large packets silently at a hop in the middle; ${unsure}; plan for a gap`,
      true,
    ],
    [
      'one pair joined at the price of others',
      { start: cut(0, 1), costs: [cut(5), noCost], bound: cut(5) },
      'this order cuts more pairs of ends at some step than now: from step 1 until step 2 is done (2 steps) 5 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends not joined by any cord; of all orders this one is best; plan for a gap',
      true,
    ],
  ] as [string, Told, string, boolean][])('%s', (_, told, wanted, isBad) => {
    expect(words(told)).toEqual({ words: wanted, isBad });
  });
});

describe('an order of which the pairs are known', () => {
  const told = (names: number, count: number) => {
    const ids = ['drawing', 'plotting', 'copies'].slice(0, names);
    const pairs = { start: { apart: [], cut: ids }, after: [{ apart: [], cut: [] }] };
    const order = { steps: [step()], costs: [noCost], exact: true, bound: noCost };
    return orderWords(order, cut(count), pairs).words;
  };

  it('names them, and counts those beyond the first', () => {
    expect(told(1, 1)).toBe(
      'no step cuts more pairs of ends than now: 1 pair of ends loses large packets silently at a hop in the middle (drawing); mended from step 1 on',
    );
    expect(told(3, 5)).toContain('(drawing, plotting, copies and 2 more); mended');
  });

  it('says beside a size that one end alone takes that large UDP and ICMP may be lost', () => {
    const reduced = { ...noCost, pathsReduced: 1 };
    const order = { steps: [step()], costs: [reduced], exact: true, bound: reduced };
    expect(orderWords(order, reduced)).toEqual({
      words:
        'no pair of ends is apart or loses large packets at a hop in the middle at any step; where one end takes less than the other sends, TCP agrees on the smaller, and large UDP and ICMP may be lost; of all orders this one is best',
      isBad: false,
    });
  });

  it('does not vouch for what a new device passes of which nothing is said', () => {
    const device = (arrives: ArrivingDevice) =>
      orderWords(
        {
          steps: [
            step(),
            { ...step({ node: 'quay-sw', disturbs: 'node-out' }), ...asNode, arrives },
          ],
          ...{ costs: [noCost, noCost], exact: true, bound: noCost },
        },
        cut(1),
      ).words;
    const dark = 'that is as far as is known: from step 2 on what quay-sw passes is not known';
    expect(device({})).toMatch(new RegExp(`; ${dark}$`));
    expect(device({ mtuBytes: 9216 })).not.toContain(dark);
  });
});
