import type { Finding, Judgement } from '../judge/types.ts';

/** What an audit right after a step shows that one right before it would not. */
export interface StepVerdicts {
  /** Broken, and not before the step. */
  readonly breaks: readonly Finding[];
  /** Broken before the step, and met or waived after it; what is only not asked any more is not. */
  readonly mends: readonly Finding[];
}

/**
 * What each step moves, from the judgements before the first and after each of them, each of which
 * watched what was broken in the one before it.
 */
export function stepVerdicts(states: readonly Judgement[]): readonly StepVerdicts[] {
  return states.slice(1).flatMap((after, at) => {
    const before = states[at];
    return before === undefined ? [] : [movedVerdicts(before.findings, after)];
  });
}

/** Findings that one state has and another has not; the second watched those broken in the first. */
export function movedVerdicts(before: readonly Finding[], after: Judgement): StepVerdicts {
  const was = new Map(before.map(({ id, verdict }) => [id, verdict]));
  const is = new Map(after.findings.map(({ id, verdict }) => [id, verdict]));
  const isMet = (id: string) => after.watched.get(id) === 'met' || is.get(id) === 'waived';
  const breaks = after.findings.filter(
    ({ id, verdict }) => verdict === 'broken' && was.get(id) !== 'broken',
  );
  const isSaidAnew = sayingAnew(breaks);
  return {
    breaks,
    mends: before.filter(
      (finding) => finding.verdict === 'broken' && isMet(finding.id) && !isSaidAnew(finding),
    ),
  };
}

/**
 * Whether another rule, of those that are newly broken, says of the same subject that it is broken by the same kind of thing (the
 * first word of a cause: `mtu`, `link`, `node`): ends that send what a switch drops are not mended by
 * a smaller declaration, although of several small ports another one may be named.
 */
export function sayingAnew(breaks: readonly Finding[]): (finding: Finding) => boolean {
  const key = ({ subject, cause }: Finding) =>
    JSON.stringify([subject.kind, subject.id, cause.split(' ', 1)]);
  const broken = new Set(breaks.map(key));
  return (finding) => broken.has(key(finding));
}

/** What of a judgement is broken, as the next one is to watch it. */
export function brokenIn({ findings }: Judgement): readonly Finding[] {
  return findings.filter(({ verdict }) => verdict === 'broken');
}
