import type { Gap } from '../facts/gap.ts';
import type { Survey } from '../facts/survey.ts';
import { settledCause } from './settle-link.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';

/**
 * What is to be said of the ports whose line is set, in `after`, a survey in which all `steps` are
 * done: that the link then is down, or that nobody can tell what it comes to. Once for each reason
 * on a link, at the first of its ends that is set.
 */
export function settledRemarks(
  after: Survey,
  steps: readonly ChangeStep[],
): readonly ChangeRemark[] {
  const told = new Map<string, ChangeRemark>();
  for (const step of steps) {
    const gap = settledGap(after, step);
    if (gap === undefined || step.port === undefined) continue;
    const ends = [`${step.node}:${step.portName}`];
    if (step.across !== undefined) ends.push(`${step.across.node}:${step.across.name}`);
    const key = `${ends.toSorted().join(' ')}\n${gap.words}`;
    if (!told.has(key)) told.set(key, remark(step.port, gap));
  }
  return [...told.values()];
}

function settledGap({ nodes }: Survey, step: ChangeStep): Gap | undefined {
  if (step.line === undefined) return undefined;
  const ports = nodes.find(({ node }) => node === step.node)?.ports;
  const gap = ports?.find(({ name }) => name === step.portName)?.gaps?.['speedMbps'];
  return gap?.cause === settledCause ? gap : undefined;
}

function remark(on: string, { reason, words }: Gap): ChangeRemark {
  if (reason === 'down')
    return {
      kind: 'impossible',
      on,
      what: `comes to ${words}`,
      remedy: 'set what both ends can do, at both ends',
    };
  return {
    kind: 'unknown',
    on,
    what: `comes to a speed and duplex that cannot be foretold: ${words}`,
    remedy: 'look at both ends, and have a way to set the old value back',
  };
}
