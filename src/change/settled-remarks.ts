import type { Gap } from '../facts/gap.ts';
import type { Survey } from '../facts/survey.ts';
import { settledLinks } from './apply-lines.ts';
import { settledCause } from './settle-link.ts';
import type { ChangeRemark, ChangeStep } from './types.ts';

/**
 * What is to be said of links whose line is set: what nobody reads is as forgotten as what no step
 * sets, where it falls to half duplex against full at the other end (IEEE 802.3, 28.2.3.1).
 */
export function unreadMismatches(
  survey: Survey,
  steps: readonly ChangeStep[],
): readonly ChangeRemark[] {
  return settledLinks(survey, steps).flatMap(({ near, far }): ChangeRemark[] => {
    const [set, unread] = near.read === undefined ? [far, near] : [near, far];
    if (set.at === undefined || unread.read !== undefined) return [];
    if ('gap' in set.settled || 'gap' in unread.settled) return [];
    const [own, other] = [set.settled.facts.duplex, unread.settled.facts.duplex];
    if (own === undefined || other === undefined || own === other) return [];
    const { at } = set;
    const step = steps.find(({ node, portName }) => node === at.node && portName === at.name);
    const there = unread.at === undefined ? 'the other end' : `${unread.at.node}:${unread.at.name}`;
    return [
      {
        kind: 'forgotten',
        on: there,
        what: `negotiates, is read by nobody and set by no step: it runs in ${other} duplex then, against ${own} at ${step?.port ?? at.node}, and frames are lost in both directions`,
        remedy: `leave negotiation on at ${step?.port ?? at.node}, or set both ends by hand alike`,
      },
    ];
  });
}

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
