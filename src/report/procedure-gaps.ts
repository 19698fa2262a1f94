import type { StateCost, StepOrder } from '../change/types.ts';
import { type Stretch, stretchesOf } from './stretches.ts';

/**
 * During which steps paths are apart, cut or carry less than declared, and which steps take links down, a
 * sentence each: what the users of the network must be told before.
 */
export function gapSentences(order: StepOrder): string[] {
  const { costs } = order;
  return [
    ...stretchesOf(costs, ({ pathsApart }) => pathsApart).map(
      (gap) => `${spanWords(gap)}, no cord joins ${pairs(gap.worst)}.`,
    ),
    ...stretchesOf(costs, ({ pathsCut }) => pathsCut).map(
      (gap) => `${spanWords(gap)}, large packets are lost silently on ${pairs(gap.worst)}.`,
    ),
    ...stretchesOf(costs, ({ pathsReduced }) => pathsReduced).map(
      (gap) =>
        `${spanWords(gap)}, ${pairs(gap.worst)} cannot use the declared packet: TCP agrees on a smaller one, large UDP and ICMP from the larger end may be lost.`,
    ),
    ...bounceWords(costs),
    ...orderWords(order),
  ];
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
