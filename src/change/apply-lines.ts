import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortSurvey, Survey } from '../facts/survey.ts';
import { lineOfEnd, type PortOf } from './line-setting.ts';
import { type LineSetting, type SettledEnd, settledCause, settleLink } from './settle-link.ts';
import type { ChangeStep } from './types.ts';

/** A port by its node and the node's own name of it. */
interface PortAt {
  readonly node: string;
  readonly name: string;
}

/** A link of which steps set an end, and what it comes to. */
export interface SettledLine {
  /** Its ends, where their ports are known; undefined: not. */
  readonly ends: readonly [PortAt | undefined, PortAt | undefined];
  /** What was read of each; undefined: nothing. */
  readonly ports: readonly [PortSurvey | undefined, PortSurvey | undefined];
  readonly lines: readonly [LineSetting, LineSetting];
  readonly settled: readonly [SettledEnd, SettledEnd];
}

/**
 * A survey in which speed, duplex and negotiation are what `steps` set, at both ends of each link:
 * what one end is set to moves the other one, too.
 */
export function applyLines(survey: Survey, steps: readonly ChangeStep[]): Survey {
  const links = settledLines(survey, steps);
  if (links.length === 0) return survey;
  const moved = new Map<string, PortSurvey>();
  for (const { ends, ports, lines, settled } of links)
    for (const side of [0, 1] as const) {
      const [at, port] = [ends[side], ports[side]];
      if (at === undefined || port === undefined) continue;
      moved.set(key(at.node, at.name), settledPort(port, settled[side], lines[side]));
    }
  const nodes = survey.nodes.map((node) => ({
    ...node,
    ports: node.ports.map((port) => moved.get(key(node.node, port.name)) ?? port),
  }));
  return { ...survey, nodes };
}

/** The links of which `steps` set speed, duplex or negotiation; `survey` is of before those. */
export function settledLines(survey: Survey, steps: readonly ChangeStep[]): readonly SettledLine[] {
  const own = steps.filter(({ line }) => line !== undefined);
  if (own.length === 0) return [];
  const ports = portsOf(survey);
  return linksOf(own).map(([a, b]): SettledLine => {
    const [near, far] = [portAt(ports, a), portAt(ports, b)];
    const steps = [stepsAt(own, a), stepsAt(own, b)] as const;
    const medium = steps.flat().find(({ runMedium }) => runMedium)?.runMedium;
    const lines = [
      lineOfEnd(near, steps[0], far, medium),
      lineOfEnd(far, steps[1], near, medium),
    ] as const;
    return {
      ends: [a, b],
      ports: [near?.port, far?.port],
      lines,
      settled: settleLink(...lines),
    };
  });
}

function portsOf({ nodes }: Survey): ReadonlyMap<string, PortOf> {
  return new Map(
    nodes.flatMap(({ node, ports, portSources }) =>
      ports.map((port): [string, PortOf] => [
        key(node, port.name),
        { port, sourceOf: (fact) => port.sources?.[fact] ?? portSources[fact] ?? '' },
      ]),
    ),
  );
}

function key(node: string, name: string): string {
  return `${node}:${name}`;
}

function portAt(ports: ReadonlyMap<string, PortOf>, at: PortAt | undefined): PortOf | undefined {
  return at === undefined ? undefined : ports.get(key(at.node, at.name));
}

/** Links whose ends are set, each once. */
function linksOf(steps: readonly ChangeStep[]): readonly (readonly (PortAt | undefined)[])[] {
  const found = new Map<string, readonly (PortAt | undefined)[]>();
  for (const { node, portName, across } of steps) {
    const near = portName === undefined ? undefined : { node, name: portName };
    const names = [near, across].map((end) => (end === undefined ? '?' : key(end.node, end.name)));
    found.set(names.toSorted().join(' '), [near, across]);
  }
  return [...found.values()];
}

function stepsAt(steps: readonly ChangeStep[], at: PortAt | undefined): readonly ChangeStep[] {
  return steps.filter(({ node, portName }) => node === at?.node && portName === at.name);
}

/** What is another value, or none, once a link has settled anew. */
const settledAnew = [
  'speedMbps',
  'duplex',
  'advertisedModes',
  'partnerModes',
  'partnerAutoNegotiation',
  'mediaText',
  'phyText',
] as const satisfies readonly (keyof PortReadFacts)[];

const source = 'the change that is rehearsed';
const offered: Gap = {
  reason: 'unasked',
  words: 'known once the link is set anew',
  cause: settledCause,
};

function settledPort(
  port: PortSurvey,
  settled: SettledEnd,
  { negotiates }: LineSetting,
): PortSurvey {
  const now: PortReadFacts = {
    ...('facts' in settled ? settled.facts : settled.down ? { operUp: false } : {}),
    ...(negotiates === undefined ? {} : { autoNegotiation: negotiates }),
  };
  const lost: (keyof PortReadFacts)[] = settledAnew.filter(
    (name) => port.facts[name] !== undefined && !(name in now),
  );
  // A link that was down may come up: whether it does is known once it is set.
  if (port.facts.operUp === false && !('operUp' in now)) lost.push('operUp');
  const kept = Object.entries(port.facts).filter(([name]) => !lost.some((each) => each === name));
  const gap = 'gap' in settled ? settled.gap : offered;
  const gaps = Object.entries(port.gaps ?? {}).filter(([name]) => !(name in now));
  return {
    ...port,
    facts: { ...Object.fromEntries(kept), ...now },
    sources: {
      ...port.sources,
      ...Object.fromEntries(Object.keys(now).map((name) => [name, source])),
    },
    gaps: {
      ...Object.fromEntries(gaps),
      ...Object.fromEntries(
        lost.map((name) => [name, name === 'speedMbps' || name === 'duplex' ? gap : offered]),
      ),
    },
  };
}
