import type { Gap } from '../facts/gap.ts';
import type { Survey } from '../facts/survey.ts';
import { type SettledLine, settledLines } from './apply-lines.ts';
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

/**
 * What is to be said of far ends that nobody reads, and so no rule judges, where the near end is
 * fixed by hand once all `steps` are done: `survey` is of before them.
 */
export function farEndRemarks(
  survey: Survey,
  steps: readonly ChangeStep[],
): readonly ChangeRemark[] {
  return settledLines(survey, steps).flatMap((link): ChangeRemark[] => {
    const [near, far] = link.ends;
    const isSeen = link.ports[0] === undefined || link.ports[1] !== undefined;
    if (near === undefined || far === undefined || isSeen) return [];
    if (link.lines[0].negotiates !== false) return [];
    const on = steps.find(({ node, portName }) => node === near.node && portName === near.name);
    return [unlike(on?.port ?? near.node, link) ?? notSet(`${far.node}:${far.name}`, far.node)];
  });
}

function unlike(on: string, { ends, settled }: SettledLine): ChangeRemark | undefined {
  const [near, far] = settled.map((end) => ('facts' in end ? end.facts.duplex : undefined));
  if (near === undefined || far === undefined || near === far) return undefined;
  return {
    kind: 'impossible',
    on,
    what: `comes to ${near} duplex against ${far} duplex at ${ends[1]?.node}:${ends[1]?.name}, which negotiates and so finds the speed alone (parallel detection, IEEE 802.3, 28.2.3.1): frames are lost under load`,
    remedy: 'leave negotiation on, or set both ends alike by hand',
  };
}

function notSet(on: string, node: string): ChangeRemark {
  return {
    kind: 'unknown',
    on,
    what: `is set by nobody: ${node} is read by nobody, and has no step; where it negotiates, it takes half duplex at 10 and 100 Mb/s and may find no link above (IEEE 802.3, 28.2.3.1 and 40.5.1)`,
    remedy: `leave negotiation on at the other end, or look up whether ${node} can be set by hand and set it alike`,
  };
}
