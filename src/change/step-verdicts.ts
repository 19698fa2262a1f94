import type { Finding } from '../judge/types.ts';

/** What an audit right after a step shows that one right before it would not. */
export interface StepVerdicts {
  /** Broken, and not before the step. */
  readonly breaks: readonly Finding[];
  /** Broken before the step, and neither broken nor undetermined after it. */
  readonly mends: readonly Finding[];
}

/** What each step moves, from the findings of an audit before the first and after each of them. */
export function stepVerdicts(states: readonly (readonly Finding[])[]): readonly StepVerdicts[] {
  return states.slice(1).map((after, at) => movedVerdicts(states[at] ?? [], after));
}

/** Findings that one state has and another has not. */
export function movedVerdicts(before: readonly Finding[], after: readonly Finding[]): StepVerdicts {
  const was = new Map(before.map(({ id, verdict }) => [id, verdict]));
  const is = new Map(after.map(({ id, verdict }) => [id, verdict]));
  return {
    breaks: after.filter(({ id, verdict }) => verdict === 'broken' && was.get(id) !== 'broken'),
    mends: before.filter(({ id, verdict }) => verdict === 'broken' && !isOpen(is.get(id))),
  };
}

function isOpen(verdict: Finding['verdict'] | undefined): boolean {
  return verdict === 'broken' || verdict === 'undetermined';
}
