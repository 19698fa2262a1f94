import type { OfferedModes } from '../ethernet/link-mode.ts';
import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortSurvey, Survey } from '../facts/survey.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import { mediumOfName } from '../site/phy-of-port.ts';
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
  const links = settledLinks(survey, steps);
  if (links.length === 0) return survey;
  const moved = new Map<string, PortSurvey>();
  for (const { near, far } of links)
    for (const end of [near, far])
      if (end?.at !== undefined && end.read !== undefined)
        moved.set(key(end.at.node, end.at.name), settledPort(end.read.port, end.settled, end.line));
  const nodes = survey.nodes.map((node) => ({
    ...node,
    ports: node.ports.map((port) => moved.get(key(node.node, port.name)) ?? port),
  }));
  return { ...survey, nodes };
}

/** One end of a link that is set. */
interface SetEnd {
  /** Absent: nothing tells which port it is. */
  readonly at?: PortAt;
  /** Absent: nobody reads it. */
  readonly read?: PortOf;
  readonly line: LineSetting;
  readonly settled: SettledEnd;
}

/** A link of which `steps` set one end at least, and what both run at then. */
export interface SettledLink {
  readonly near: SetEnd;
  readonly far: SetEnd;
}

/** What all links come to of which `steps` set speed, duplex or negotiation. */
export function settledLinks(survey: Survey, steps: readonly ChangeStep[]): readonly SettledLink[] {
  const own = steps.filter(({ line }) => line !== undefined);
  if (own.length === 0) return [];
  const ports = portsOf(survey);
  return linksOf(own).map(([a, b]) => {
    const [near, far] = [portAt(ports, a), portAt(ports, b)];
    const line = lineOfEnd(near, stepsAt(own, a), far);
    const farLine = lineOfEnd(far, stepsAt(own, b), near);
    const [settled, farSettled] = settleLink(line, farLine);
    return {
      near: { ...endOf(a, near), line, settled },
      far: { ...endOf(b, far), line: farLine, settled: farSettled },
    };
  });
}

function endOf(at: PortAt | undefined, read: PortOf | undefined): Pick<SetEnd, 'at' | 'read'> {
  return { ...(at === undefined ? {} : { at }), ...(read === undefined ? {} : { read }) };
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
    ...pairOf(end.port),
  };
}

/** What an end can do, or where nothing sets it, what it offers; what it runs at it can do. */
function speedsOf(
  { port, sourceOf }: PortOf,
  offers: boolean,
): Pick<LineSetting, 'speedsMbps' | 'halfMbps' | 'silentMbps'> {
  const names = offers
    ? (['advertisedModes', 'supportedModes'] as const)
    : (['supportedModes', 'advertisedModes'] as const);
  const [list] = names.flatMap(
    (name) => offeredModes(port.facts[name] ?? [], sourceOf(name)) ?? [],
  );
  const { speedMbps, duplex } = port.facts;
  const now = speedMbps === undefined ? [] : [speedMbps];
  const half = duplex === 'half' ? now : [];
  // Without a list nothing is known but what it runs at.
  if (list === undefined) return { speedsMbps: now, silentMbps: ethernetSpeedsMbps };
  return {
    speedsMbps: [...new Set([...list.modes.map((mode) => mode.speedMbps), ...now])],
    halfMbps: [...halvesOf(list), ...half],
    silentMbps: list.silentMbps,
  };
}

function halvesOf({ modes }: OfferedModes): number[] {
  return modes.flatMap((mode) => (mode.duplex === 'half' ? [mode.speedMbps] : []));
}

/** Whether a port is known to be twisted pair, by what it says of its kind of line. */
function pairOf({ facts }: PortSurvey): Pick<LineSetting, 'twistedPair'> {
  const medium = mediumOfName(facts.phyText ?? facts.mediaText);
  return medium === undefined ? {} : { twistedPair: medium === 'copper' };
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
          halfMbps: halvesOf(list),
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
