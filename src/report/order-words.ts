import { breaksMore, compareCosts, pathsBroken } from '../change/state-cost.ts';
import type { ChangeStep, StateCost, StepOrder } from '../change/types.ts';
import { losing, pairs } from './state-words.ts';
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
export function orderWords(order: StepOrder, start: StateCost): OrderVerdict {
  const worse = order.costs.filter((cost) => breaksMore(cost, start));
  if (worse.length > 0) return { words: worseWords(order, start), isBad: true };
  if (pathsBroken(start) > 0) return noWorse(order.costs, start);
  const best = order.exact ? 'of all orders this one is best' : 'other orders may be as good';
  return { words: `no step parts any ends or makes their transfers stall; ${best}`, isBad: false };
}

function noWorse(costs: readonly StateCost[], start: StateCost): OrderVerdict {
  const lead = `no step parts or stalls more pairs of ends than now (${brokenWords(start)})`;
  const last = stretchesOf(costs, pathsBroken).at(-1);
  const left = costs.at(-1);
  if (left !== undefined && last !== undefined && last.until === undefined)
    return { words: `${lead}; still after the last step ${brokenWords(left)}`, isBad: true };
  return { words: `${lead}; mended from step ${last?.until ?? 1} on`, isBad: false };
}

function worseWords(order: StepOrder, start: StateCost): string {
  const worse = stretchesOf(order.costs, (cost) => Number(breaksMore(cost, start)));
  return [
    `${lead(order, start)}: ${worse.map((stretch) => stretchWords(stretch, order)).join('; ')}`,
    ...(pathsBroken(start) > 0 ? [`before the change ${brokenWords(start)}`] : []),
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
      : 'every order parts or stalls more pairs of ends at some step than now';
  return isWhole
    ? 'this order does not keep every path whole'
    : 'this order parts or stalls more pairs of ends than now';
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

function stretchWords(stretch: Stretch, { costs }: StepOrder): string {
  const { from, until } = stretch;
  const within = costs.slice(from - 1, until === undefined ? undefined : until - 1);
  const worst = within.toSorted((a, b) => compareCosts(b, a))[0];
  const most = within.length > 1 ? ' at worst' : '';
  return `${spanWords(stretch, costs.length)}${most} ${worst === undefined ? '' : brokenWords(worst)}`;
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

function brokenWords({ pathsApart, pathsCut }: StateCost): string {
  const apart = pathsApart === 0 ? [] : [`${pairs(pathsApart)} not joined by any cord`];
  const cut = pathsCut === 0 ? [] : [`${losing(pathsCut)} at a hop in the middle`];
  return [...apart, ...cut].join(', ');
}
