import type { BrokenPairStates } from '../change/broken-pairs.ts';
import { breaksMore, compareCosts, pathsBroken } from '../change/state-cost.ts';
import type { ChangeStep, StateCost, StepOrder } from '../change/types.ts';
import { brokenWords } from './state-words.ts';
import { type Stretch, stretchesOf } from './stretches.ts';

/** What there is to say of an order as a whole. */
export interface OrderVerdict {
  readonly words: string;
  /** Some step breaks more than was broken before, or something stays broken after the last. */
  readonly isBad: boolean;
}

/**
 * Whether an order keeps every path whole, or is no worse than the state before it, and from which
 * step on that is mended; else during which steps it is worse, and which of these last as long as a
 * node takes.
 */
export function orderWords(
  order: StepOrder,
  start: StateCost,
  pairs?: BrokenPairStates,
): OrderVerdict {
  const told = { order, start, pairs };
  const { words, isBad } = knownWords(told);
  return { words: [words, ...darkWords(order.steps)].join('; '), isBad };
}

interface Told {
  readonly order: StepOrder;
  readonly start: StateCost;
  /** Which pairs the costs count; undefined: they are not named. */
  readonly pairs: BrokenPairStates | undefined;
}

function knownWords(told: Told): OrderVerdict {
  const { order, start } = told;
  const worse = order.costs.filter((cost) => breaksMore(cost, start));
  if (worse.length > 0) return { words: worseWords(told), isBad: true };
  if (pathsBroken(start) > 0) return noWorse(told);
  const best = order.exact ? 'of all orders this one is best' : 'other orders may be as good';
  return {
    words: [
      'no pair of ends is apart or loses large packets at a hop in the middle at any step',
      ...([start, ...order.costs].some(({ pathsReduced }) => pathsReduced > 0) ? [uneven] : []),
      best,
    ].join('; '),
    isBad: false,
  };
}

const uneven =
  'where one end takes less than the other sends, TCP agrees on the smaller, and large UDP and ICMP may be lost';

/** New devices of which nothing is known that would tell what passes through them. */
function darkWords(steps: readonly ChangeStep[]): string[] {
  return steps.flatMap(({ node, arrives }, at) => {
    const isSet = steps.some((each) => each.node === node && each.setting === 'mtu');
    return arrives === undefined || arrives.mtuBytes !== undefined || isSet
      ? []
      : [`that is as far as is known: from step ${at + 1} on what ${node} passes is not known`];
  });
}

function noWorse({ order: { costs }, start, pairs }: Told): OrderVerdict {
  const lead = `no step cuts more pairs of ends than now: ${brokenWords(start, pairs?.start)}`;
  const last = stretchesOf(costs, pathsBroken).at(-1);
  const left = costs.at(-1);
  if (left !== undefined && last !== undefined && last.until === undefined)
    return {
      words: `${lead}; still after the last step ${brokenWords(left, pairs?.after.at(-1))}`,
      isBad: true,
    };
  return { words: `${lead}; mended from step ${last?.until ?? 1} on`, isBad: false };
}

function worseWords(told: Told): string {
  const { order, start, pairs } = told;
  const worse = stretchesOf(order.costs, (cost) => Number(breaksMore(cost, start)));
  return [
    `${lead(order, start)}: ${worse.map((stretch) => stretchWords(stretch, told)).join('; ')}`,
    ...(pathsBroken(start) > 0 ? [`before the change ${brokenWords(start, pairs?.start)}`] : []),
    ...longWords(order, worse),
    ...(isCertain(order, start) ? [] : [unsure(order)]),
    'plan for a gap',
  ].join('; ');
}

function lead(order: StepOrder, start: StateCost): string {
  const isWhole = pathsBroken(start) === 0;
  if (isCertain(order, start))
    return isWhole
      ? 'no order keeps every path whole'
      : 'every order cuts more pairs of ends at some step than now';
  return isWhole
    ? 'this order does not keep every path whole'
    : 'this order cuts more pairs of ends at some step than now';
}

/** The bound that no order beats is worse than the state before. */
function isCertain({ bound }: StepOrder, start: StateCost): boolean {
  const more = { pathsReduced: 0, clearanceLackBytes: 0, bounces: 0 };
  return compareCosts({ ...bound, ...more }, { ...start, ...more }) > 0;
}

function unsure({ exact }: StepOrder): string {
  return exact
    ? 'of all orders this one is best'
    : 'whether another order does better is not known, since there are too many steps to look at all orders';
}

function stretchWords(stretch: Stretch, { order: { costs }, pairs }: Told): string {
  const { from, until } = stretch;
  const numbered = costs.map((cost, at) => ({ cost, named: pairs?.after[at] }));
  const within = numbered.slice(from - 1, until === undefined ? undefined : until - 1);
  const worst = within.toSorted((a, b) => compareCosts(b.cost, a.cost))[0];
  const most = within.length > 1 ? ' at worst' : '';
  return `${spanWords(stretch, costs.length)}${most} ${worst === undefined ? '' : brokenWords(worst.cost, worst.named)}`;
}

/** The step that begins it and the one that ends it are counted. */
function spanWords({ from, until }: Stretch, all: number): string {
  const count = (until ?? all) - from + 1;
  const steps = `${count} ${count === 1 ? 'step' : 'steps'}`;
  return until === undefined
    ? `from step ${from} on, and still after the last one (${steps}),`
    : `from step ${from} until step ${until} is done (${steps})`;
}

/** Steps of which hopgauge cannot know how long they take: a node restarts or is replaced. */
function longWords({ steps }: StepOrder, worse: readonly Stretch[]): string[] {
  const within = new Set(
    worse.flatMap(({ from, until }) => steps.slice(from - 1, until ?? steps.length)),
  );
  const numbers = new Map<string, number[]>();
  steps.forEach((step, at) => {
    const does = lastingWords[step.disturbs];
    if (does === undefined || !within.has(step)) return;
    const key = `${does} ${step.node}`;
    numbers.set(key, [...(numbers.get(key) ?? []), at + 1]);
  });
  const named = [...numbers].map(([does, own]) => `${does} (step ${own.join(', ')})`);
  return named.length === 0
    ? []
    : [`it has ${named.join(' and ')}: how long that takes is not known`];
}

const lastingWords: Partial<Record<ChangeStep['disturbs'], string>> = {
  'node-reload': 'a restart of',
  'node-out': 'a new device in place of',
};
