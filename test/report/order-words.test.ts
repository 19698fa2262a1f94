import { describe, expect, it } from 'vitest';
import { noCost } from '../../src/change/state-cost.ts';
import type { Disturbance, StateCost } from '../../src/change/types.ts';
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

const unsure =
  'whether another order does better is not known, since there are too many steps to look at all orders';

describe('an order in words', () => {
  it.each([
    [
      'whole all the way',
      { costs: [noCost, noCost] },
      'no step parts any ends or makes their transfers stall; of all orders this one is best',
      false,
    ],
    [
      'whole all the way, not all orders looked at',
      { costs: [noCost, noCost], exact: false },
      'no step parts any ends or makes their transfers stall; other orders may be as good',
      false,
    ],
    [
      'as bad before, and mended',
      { start: cut(2), costs: [cut(2), cut(1), noCost, noCost], bound: cut(2) },
      'no step parts or stalls more pairs of ends than now (2 pairs of ends lose large packets silently at a hop in the middle); mended from step 3 on',
      false,
    ],
    [
      'bad before, and mended by the first step',
      { start: cut(1), costs: [noCost] },
      'no step parts or stalls more pairs of ends than now (1 pair of ends loses large packets silently at a hop in the middle); mended from step 1 on',
      false,
    ],
    [
      'bad before, mended and as bad again, then mended for good',
      { start: cut(1), costs: [noCost, cut(1), noCost], bound: cut(1) },
      'no step parts or stalls more pairs of ends than now (1 pair of ends loses large packets silently at a hop in the middle); mended from step 3 on',
      false,
    ],
    [
      'not joined before, joined and cut, then mended',
      { start: cut(0, 2), costs: [cut(2), noCost], bound: cut(2) },
      'no step parts or stalls more pairs of ends than now (2 pairs of ends not joined by any cord); mended from step 2 on',
      false,
    ],
    [
      'as bad before and after',
      { start: cut(2), costs: [cut(2), cut(1)], bound: cut(2) },
      'no step parts or stalls more pairs of ends than now (2 pairs of ends lose large packets silently at a hop in the middle); still after the last step 1 pair of ends loses large packets silently at a hop in the middle',
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
      'every order parts or stalls more pairs of ends at some step than now: from step 2 until step 3 is done (2 steps) 2 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends loses large packets silently at a hop in the middle; plan for a gap',
      true,
    ],
    [
      'bad before, and worse in this order',
      { start: cut(1), costs: [cut(2), noCost], bound: cut(1), exact: false },
      `this order parts or stalls more pairs of ends than now: from step 1 until step 2 is done (2 steps) 2 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends loses large packets silently at a hop in the middle; ${unsure}; plan for a gap`,
      true,
    ],
    [
      'one pair joined at the price of others',
      { start: cut(0, 1), costs: [cut(5), noCost], bound: cut(5) },
      'this order parts or stalls more pairs of ends than now: from step 1 until step 2 is done (2 steps) 5 pairs of ends lose large packets silently at a hop in the middle; before the change 1 pair of ends not joined by any cord; of all orders this one is best; plan for a gap',
      true,
    ],
  ] as [string, Told, string, boolean][])('%s', (_, told, wanted, isBad) => {
    expect(words(told)).toEqual({ words: wanted, isBad });
  });
});
