import type { StateCost, StepOrder } from '../change/types.ts';

/** A stretch of steps after each of which `count` of the cost is above zero. */
interface Stretch {
  /** Number of the step that begins it, from 1. */
  readonly from: number;
  /** Number of the step that ends it; absent: it lasts beyond the last step. */
  readonly until?: number;
  /** Largest count within it. */
  readonly worst: number;
}

/**
 * During which steps paths are apart, cut or carry less than declared, and which steps take links down, a
 * sentence each: what the users of the network must be told before.
 */
export function gapSentences(order: StepOrder): string[] {
  const { costs } = order;
  return [
    ...stretches(costs, 'pathsApart').map(
      (gap) => `${spanWords(gap)}, no cord joins ${pairs(gap.worst)}.`,
    ),
    ...stretches(costs, 'pathsCut').map(
      (gap) => `${spanWords(gap)}, large packets are lost silently on ${pairs(gap.worst)}.`,
    ),
    ...stretches(costs, 'pathsReduced').map(
      (gap) =>
        `${spanWords(gap)}, ${pairs(gap.worst)} cannot use the declared packet: TCP agrees on a smaller one, large UDP and ICMP from the larger end may be lost.`,
    ),
    ...bounceWords(costs),
    ...orderWords(order),
  ];
}

function stretches(
  costs: readonly StateCost[],
  what: 'pathsApart' | 'pathsCut' | 'pathsReduced',
): Stretch[] {
  const found: Stretch[] = [];
  let open: { from: number; worst: number } | undefined;
  costs.forEach((cost, index) => {
    const count = cost[what];
    if (count > 0) {
      open = { from: open?.from ?? index + 1, worst: Math.max(open?.worst ?? 0, count) };
    } else if (open !== undefined) {
      found.push({ ...open, until: index + 1 });
      open = undefined;
    }
  });
  return open === undefined ? found : [...found, open];
}

function spanWords({ from, until }: Stretch): string {
  return until === undefined
    ? `From step ${from} on, and still after the last step`
    : `From step ${from} until step ${until} is done`;
}

function pairs(count: number): string {
  return count === 1 ? 'one pair of ends' : `${count} pairs of ends`;
}

function bounceWords(costs: readonly StateCost[]): string[] {
  const steps = costs.flatMap(({ bounces }, index) => (bounces > 0 ? [index + 1] : []));
  if (steps.length === 0) return [];
  const which = steps.length === 1 ? `Step ${steps[0]} takes` : `Steps ${steps.join(', ')} take`;
  return [`${which} links down for a moment.`];
}

function orderWords({ exact, costs, bound }: StepOrder): string[] {
  if (costs.length < 2) return [];
  if (exact) return ['No other order of these steps is better in its worst state.'];
  return [
    `Not every order was looked at; none can do better than ${pairs(bound.pathsCut)} cut at its worst.`,
  ];
}
