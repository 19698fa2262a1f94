import { noPort } from '../change/cords.ts';
import type { StateCost, StepOrder } from '../change/types.ts';
import { type Stretch, stretchesOf } from './stretches.ts';

/**
 * During which steps paths are apart, cut or carry less than declared, and which steps take links
 * down, a sentence each: what the users of the network must be told before. What is so before the
 * first step and stays so all the time is told as that, since the change does not do it.
 */
export function gapSentences(order: StepOrder, start: StateCost): string[] {
  const told = (count: (cost: StateCost) => number, words: (pairs: string) => string) =>
    isAsBefore(order, start, count)
      ? [`As before the change and all the time, ${words(pairs(count(start)))}.`]
      : stretchesOf(order.costs, count).map(
          (gap) => `${spanWords(gap)}, ${words(pairs(gap.worst))}${before(count(start))}.`,
        );
  return [
    ...told(
      ({ pathsApart }) => pathsApart,
      (which) => `no cord joins ${which}`,
    ),
    ...told(
      ({ pathsCut }) => pathsCut,
      (which) => `large packets are lost silently on ${which}`,
    ),
    ...told(
      ({ pathsReduced }) => pathsReduced,
      (which) =>
        `${which} cannot use the declared packet: TCP agrees on a smaller one, large UDP and ICMP from the larger end may be lost`,
    ),
    ...bounceWords(order),
    ...orderWords(order),
  ];
}

function isAsBefore(
  { costs }: StepOrder,
  start: StateCost,
  count: (cost: StateCost) => number,
): boolean {
  return count(start) > 0 && costs.every((cost) => count(cost) === count(start));
}

function before(count: number): string {
  return count === 0 ? '' : ` (${count} before the change)`;
}

function spanWords({ from, until }: Stretch): string {
  return until === undefined
    ? `From step ${from} on, and still after the last step`
    : `From step ${from} until step ${until} is done`;
}

function pairs(count: number): string {
  return count === 1 ? 'one pair of ends' : `${count} pairs of ends`;
}

function bounceWords({ costs, steps }: StepOrder): string[] {
  const isAway = (at: number) => steps[at]?.to === noPort;
  const numbers = (wanted: boolean) =>
    costs.flatMap(({ bounces }, at) => (bounces > 0 && isAway(at) === wanted ? [at + 1] : []));
  const which = (own: readonly number[], one: string, more: string) =>
    own.length === 1 ? `Step ${own[0]} ${one}` : `Steps ${own.join(', ')} ${more}`;
  const [down, away] = [numbers(false), numbers(true)];
  return [
    ...(down.length === 0 ? [] : [`${which(down, 'takes', 'take')} links down for a moment.`]),
    ...(away.length === 0
      ? []
      : [`${which(away, 'takes', 'take')} a cord away: its link does not come back by itself.`]),
  ];
}

function orderWords({ exact, costs, bound }: StepOrder): string[] {
  if (costs.length < 2) return [];
  if (exact) return ['No other order of these steps is better in its worst state.'];
  return [
    `Not every order was looked at; none can do better than ${pairs(bound.pathsCut)} cut at its worst.`,
  ];
}
