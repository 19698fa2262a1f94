import type { Gap } from '../facts/gap.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortSurvey, Survey } from '../facts/survey.ts';
import { type LineSetting, type SettledEnd, settleLink } from './settle-link.ts';
import type { ChangeStep } from './types.ts';

/** A port by its node and the node's own name of it. */
interface PortAt {
  readonly node: string;
  readonly name: string;
}

const lineSettings: ReadonlySet<string> = new Set(['speed', 'duplex', 'auto-negotiation']);

/**
 * A survey in which speed, duplex and negotiation are what `steps` set, at both ends of each link:
 * what one end is set to moves the other one, too.
 */
export function applyLines(survey: Survey, steps: readonly ChangeStep[]): Survey {
  const own = steps.filter(({ setting }) => lineSettings.has(setting));
  if (own.length === 0) return survey;
  const ports = new Map(
    survey.nodes.flatMap(({ node, ports }) => ports.map((port) => [key(node, port.name), port])),
  );
  const moved = new Map<string, PortSurvey>();
  for (const [a, b] of linksOf(own)) {
    const [near, far] = [portOf(ports, a), portOf(ports, b)];
    const lines = [lineOf(near, stepsAt(own, a)), lineOf(far, stepsAt(own, b))] as const;
    const settled = settleLink(...lines);
    if (near !== undefined && a !== undefined)
      moved.set(key(a.node, a.name), settledPort(near, settled[0], lines[0]));
    if (far !== undefined && b !== undefined)
      moved.set(key(b.node, b.name), settledPort(far, settled[1], lines[1]));
  }
  const nodes = survey.nodes.map((node) => ({
    ...node,
    ports: node.ports.map((port) => moved.get(key(node.node, port.name)) ?? port),
  }));
  return { ...survey, nodes };
}

function key(node: string, name: string): string {
  return `${node}:${name}`;
}

function portOf(
  ports: ReadonlyMap<string, PortSurvey>,
  at: PortAt | undefined,
): PortSurvey | undefined {
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

function lineOf(port: PortSurvey | undefined, steps: readonly ChangeStep[]): LineSetting {
  const { autoNegotiation, speedMbps, duplex } = port?.facts ?? {};
  const to = (setting: ChangeStep['setting']) => steps.find((step) => step.setting === setting)?.to;
  const [asked, speed, shape] = [to('auto-negotiation'), to('speed'), to('duplex')];
  const negotiates = typeof asked === 'boolean' ? asked : autoNegotiation;
  const isForced = negotiates === false;
  const onlyMbps = typeof speed === 'number' ? speed : isForced ? speedMbps : undefined;
  const onlyDuplex = shape ?? (isForced ? duplex : undefined);
  return {
    ...(negotiates === undefined ? {} : { negotiates }),
    ...(onlyMbps === undefined ? {} : { onlyMbps }),
    ...(onlyDuplex === 'full' || onlyDuplex === 'half' ? { onlyDuplex } : {}),
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
  cause: 'links that the change sets anew',
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
  const lost = settledAnew.filter((name) => port.facts[name] !== undefined && !(name in now));
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
