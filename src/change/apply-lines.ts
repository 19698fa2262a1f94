import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortSurvey, Survey } from '../facts/survey.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import { offeredModes } from '../site/port-modes.ts';
import { type LineSetting, type SettledEnd, settledCause, settleLink } from './settle-link.ts';
import type { AskedLine, ChangeStep } from './types.ts';

/** A port by its node and the node's own name of it. */
interface PortAt {
  readonly node: string;
  readonly name: string;
}

/**
 * A survey in which speed, duplex and negotiation are what `steps` set, at both ends of each link:
 * what one end is set to moves the other one, too.
 */
export function applyLines(survey: Survey, steps: readonly ChangeStep[]): Survey {
  const own = steps.filter(({ line }) => line !== undefined);
  if (own.length === 0) return survey;
  const ports = portsOf(survey);
  const moved = new Map<string, PortSurvey>();
  for (const [a, b] of linksOf(own)) {
    const [near, far] = [portAt(ports, a), portAt(ports, b)];
    const lines = [
      lineOfEnd(near, stepsAt(own, a), far),
      lineOfEnd(far, stepsAt(own, b), near),
    ] as const;
    const settled = settleLink(...lines);
    if (near !== undefined && a !== undefined)
      moved.set(key(a.node, a.name), settledPort(near.port, settled[0], lines[0]));
    if (far !== undefined && b !== undefined)
      moved.set(key(b.node, b.name), settledPort(far.port, settled[1], lines[1]));
  }
  const nodes = survey.nodes.map((node) => ({
    ...node,
    ports: node.ports.map((port) => moved.get(key(node.node, port.name)) ?? port),
  }));
  return { ...survey, nodes };
}

/** A port that was read, with where its lists of modes come from. */
interface PortOf {
  readonly port: PortSurvey;
  readonly sourceOf: (fact: string) => string;
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

/** How an end is set; of one that was not read, as its partner hears it. */
function lineOfEnd(
  end: PortOf | undefined,
  steps: readonly ChangeStep[],
  partner: PortOf | undefined,
): LineSetting {
  if (end === undefined) return heardBy(partner);
  const { autoNegotiation, speedMbps, duplex } = end.port.facts;
  const asked: AskedLine = Object.assign({}, ...steps.map(({ line }) => line));
  const negotiates = asked.negotiates ?? autoNegotiation;
  const isForced = negotiates === false;
  const onlyMbps = asked.speedMbps ?? (isForced ? speedMbps : undefined);
  const onlyDuplex = asked.duplex ?? (isForced ? duplex : undefined);
  return {
    ...(negotiates === undefined ? {} : { negotiates }),
    ...(onlyMbps === undefined ? {} : { onlyMbps }),
    ...(onlyDuplex === 'full' || onlyDuplex === 'half' ? { onlyDuplex } : {}),
    ...speedsOf(end, asked.speedMbps === undefined && !isForced),
  };
}

/** What an end can do, or where nothing sets it, what it offers; what it runs at it can do. */
function speedsOf(
  { port, sourceOf }: PortOf,
  offers: boolean,
): Pick<LineSetting, 'speedsMbps' | 'silentMbps'> {
  const names = offers
    ? (['advertisedModes', 'supportedModes'] as const)
    : (['supportedModes', 'advertisedModes'] as const);
  const [list] = names.flatMap(
    (name) => offeredModes(port.facts[name] ?? [], sourceOf(name)) ?? [],
  );
  const { speedMbps } = port.facts;
  const now = speedMbps === undefined ? [] : [speedMbps];
  // Without a list nothing is known but what it runs at.
  if (list === undefined) return { speedsMbps: now, silentMbps: ethernetSpeedsMbps };
  return {
    speedsMbps: [...new Set([...list.modes.map((mode) => mode.speedMbps), ...now])],
    silentMbps: list.silentMbps,
  };
}

/** An end that nobody reads, by what its partner hears of it: that it negotiates, and what. */
function heardBy(partner: PortOf | undefined): LineSetting {
  const { partnerModes = [], partnerAutoNegotiation } = partner?.port.facts ?? {};
  const list = partner && offeredModes(partnerModes, partner.sourceOf('partnerModes'));
  const negotiates = partnerAutoNegotiation ?? (list === undefined ? undefined : true);
  return {
    ...(negotiates === undefined ? {} : { negotiates }),
    ...(list === undefined
      ? {}
      : {
          speedsMbps: list.modes.map((mode) => mode.speedMbps),
          silentMbps: list.silentMbps,
        }),
  };
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
