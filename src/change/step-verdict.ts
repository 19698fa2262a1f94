import { gapOf } from '../facts/subject.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { StepOutcome } from './confirmation.ts';
import type { ChangeStep } from './types.ts';

/** What is told of one step. */
export type StepVerdict = Pick<StepOutcome, 'verdict' | 'is' | 'why' | 'look'>;

/** A cord is judged by who announces itself at its port, where somebody does. */
export function linkVerdict(bench: ConfirmBench, step: ChangeStep): StepVerdict {
  // The foretold survey still holds who was heard before: no cord is moved on paper.
  const [before, now] = [bench.foretoldSite, bench.foundSite].map(
    ({ ports }) => ports.find(({ id }) => id === step.port)?.subject,
  );
  const declared = now?.facts['neighbourDeclared'];
  if (declared === true) return { verdict: 'done' };
  const heard = now?.facts['neighbour'];
  if (declared === false && typeof heard === 'string')
    return {
      verdict: heard === before?.facts['neighbour'] ? 'not-done' : 'other',
      why: `${heard} is heard there`,
    };
  const gap = now && gapOf(now, 'neighbourDeclared');
  return cannotTell(step, gap?.words ?? 'nothing that is read tells who is at its other end');
}

/** A step of which nobody can tell whether it is done, with what to look at by hand. */
export function cannotTell(step: ChangeStep, why: string): StepVerdict {
  return { verdict: 'cannot-tell', why, look: lookWords(step) };
}

function lookWords({ setting, node, port, to }: ChangeStep): string {
  if (setting === 'link') return `follow the cord from ${port ?? node} to ${String(to)}`;
  if (setting === 'node') return `look at ${node} itself`;
  const what = port === undefined ? `the largest frame or MTU of ${node}` : `${setting} of ${port}`;
  const value = typeof to === 'boolean' ? (to ? 'on' : 'off') : String(to);
  return `look at it by hand: ${what} has to be ${value}`;
}
