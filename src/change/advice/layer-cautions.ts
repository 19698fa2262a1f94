import type { PortSurvey } from '../../facts/survey.ts';
import type { ChangeStep } from '../types.ts';
import { namesOf, textOf } from './text.ts';
import type { AdviceContext } from './types.ts';
import { mtuFrom } from './wanted.ts';

/**
 * What the layers below and above a port of a host do to a new MTU: lowest first when raising; a
 * child above its parent is refused on Linux; a bridge whose MTU is set by hand no longer follows
 * its members; members follow their bond (common practice).
 */
export function layerCautions(step: ChangeStep, context: AdviceContext): string[] {
  const to = mtuFrom(step.to);
  if (to === undefined) return [];
  const smaller = context.lowerPorts.filter((lower) => (lower.facts.mtuBytes ?? to) < to);
  const larger = (context.upperPorts ?? []).filter((upper) => (upper.facts.mtuBytes ?? to) > to);
  return [
    ...below(smaller, context),
    ...ofKind(context),
    ...above(larger),
    ...bridges(to, context),
  ];
}

function below(smaller: readonly PortSurvey[], { port }: AdviceContext): string[] {
  // Members of a bond take its MTU themselves.
  if (smaller.length === 0 || port?.kind === 'bond') return [];
  return [
    `it stands on ${namesOf(smaller)} with a smaller MTU now: raise what is below first, or it is refused or frames are lost`,
  ];
}

function ofKind({ port }: AdviceContext): string[] {
  if (port?.aggregate !== undefined) {
    return [
      `it is a member of ${textOf(port.aggregate)}: set the MTU there, not here; its members should take it over, so look at each after`,
    ];
  }
  if (port?.kind === 'bond') {
    return [
      'its members should take the MTU over, and each may lose link for a moment: look at each after',
    ];
  }
  return port?.kind === 'bridge'
    ? ['a bridge whose MTU is set by hand no longer follows its members by itself']
    : [];
}

function above(larger: readonly PortSurvey[]): string[] {
  if (larger.length === 0) return [];
  return [
    `${namesOf(larger)} above it is lowered with it or loses large frames; raising later brings it back only by hand`,
  ];
}

function bridges(to: number, { upperPorts = [] }: AdviceContext): string[] {
  const raised = upperPorts.filter(
    ({ facts }) => facts.kind === 'bridge' && (facts.mtuBytes ?? to) < to,
  );
  if (raised.length === 0) return [];
  return [
    `${namesOf(raised)} above it should follow its smallest member, unless its own MTU was once set by hand: look at it right after`,
  ];
}
