import type { StepOutcome } from './confirmation.ts';
import { noPort } from './cords.ts';
import type { ChangeStep } from './types.ts';

/** What is told of one step. */
export type StepVerdict = Pick<StepOutcome, 'verdict' | 'is' | 'why' | 'look'>;

/** What was seen of a step; what can be looked at by hand goes with what cannot be told. */
export function looked(step: ChangeStep, seen: StepVerdict): StepVerdict {
  return seen.verdict === 'cannot-tell' ? { ...seen, look: lookWords(step) } : seen;
}

/** A step of which nobody can tell whether it is done, with what to look at by hand. */
export function cannotTell(step: ChangeStep, why: string): StepVerdict {
  return { verdict: 'cannot-tell', why, look: lookWords(step) };
}

function lookWords({ setting, node, port, to }: ChangeStep): string {
  if (setting === 'link')
    return to === noPort
      ? `look whether a cord is in ${port ?? node}`
      : `follow the cord from ${port ?? node} to ${String(to)}`;
  if (setting === 'node') return `look at ${node} itself: it has to be ${String(to)}`;
  const what = port === undefined ? `the largest frame or MTU of ${node}` : `${setting} of ${port}`;
  const value = typeof to === 'boolean' ? (to ? 'on' : 'off') : String(to);
  return `look at it by hand: ${what} has to be ${value}`;
}
