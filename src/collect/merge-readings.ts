import type { FactValue } from '../facts/entry.ts';
import type { Gap } from '../facts/gap.ts';
import { byName } from '../facts/order.ts';
import type { Disagreement, PortSurvey } from '../facts/survey.ts';
import type { NodeReading } from './types.ts';

type Values = Readonly<Record<string, FactValue | undefined>>;

/** Facts of a port on which two accesses must agree; counters and states move between readings. */
const compared = ['mtuBytes', 'speedMbps', 'duplex', 'macAddress'] as const;

/** One reading of several accesses, with what they disagree on. */
export interface MergedReading extends NodeReading {
  readonly disagreements: readonly Disagreement[];
}

/**
 * One reading of several accesses to one node. The first access rules; a later one fills what it
 * left open. Where both say something and differ, both are kept as a disagreement.
 */
export function mergeReadings(readings: readonly NodeReading[]): MergedReading {
  const [first, ...rest] = readings;
  if (first === undefined) return { ...emptyReading, disagreements: [] };
  return rest.reduce<MergedReading>(mergeTwo, { ...first, disagreements: [] });
}

/** A reading of nothing. */
export const emptyReading: NodeReading = {
  facts: {},
  sources: {},
  gaps: {},
  portSources: {},
  portGaps: {},
  ports: [],
  routes: [],
  sessions: [],
  mounts: [],
};

function mergeTwo(a: MergedReading, b: NodeReading): MergedReading {
  const others = new Map(b.ports.map((port) => [port.name, port]));
  const ports = a.ports.map((port) => {
    const other = others.get(port.name);
    others.delete(port.name);
    return other === undefined ? port : mergePort({ a, b, port, other });
  });
  const added = [...others.values()].map((port) => withOwnSources(port, b));
  return {
    facts: { ...b.facts, ...a.facts },
    sources: { ...b.sources, ...a.sources },
    gaps: openGaps({ ...b.facts, ...a.facts }, { ...b.gaps, ...a.gaps }),
    portSources: a.portSources,
    portGaps: a.portGaps,
    ports: [...ports, ...added].sort((x, y) => byName(x.name, y.name)),
    routes: [...a.routes, ...b.routes],
    ...firstOf(a, b, 'routeTable'),
    ...firstOf(a, b, 'neighbours'),
    ...firstOf(a, b, 'forwarding'),
    sessions: [...a.sessions, ...b.sessions],
    mounts: [...a.mounts, ...b.mounts],
    disagreements: [...a.disagreements, ...disagreements(a, b)],
  };
}

type WholeList = 'routeTable' | 'neighbours' | 'forwarding';

/** A list that only means something whole is taken whole from the first access that has it. */
function firstOf<K extends WholeList>(
  a: NodeReading,
  b: NodeReading,
  name: K,
): Partial<Pick<NodeReading, K>> {
  const list = a[name] ?? b[name];
  return list === undefined ? {} : ({ [name]: list } as Pick<NodeReading, K>);
}

interface Pair {
  readonly a: NodeReading;
  readonly b: NodeReading;
  readonly port: PortSurvey;
  readonly other: PortSurvey;
}

function mergePort({ a, b, port, other }: Pair): PortSurvey {
  const mine: Values = port.facts;
  const sources: Record<string, string> = { ...port.sources };
  for (const name of Object.keys(other.facts)) {
    const source = other.sources?.[name] ?? b.portSources[name];
    if (mine[name] === undefined && source !== undefined) sources[name] = source;
  }
  const facts = { ...other.facts, ...port.facts };
  const gaps = openGaps(facts, { ...other.gaps, ...port.gaps });
  const known = Object.keys(sources).filter((name) => sources[name] !== a.portSources[name]);
  return {
    name: port.name,
    facts,
    ...(known.length === 0
      ? {}
      : { sources: Object.fromEntries(known.map((name) => [name, sources[name] ?? ''])) }),
    ...(Object.keys(gaps).length === 0 ? {} : { gaps }),
  };
}

/** A port that only the second access saw keeps its own sources and gaps. */
function withOwnSources(port: PortSurvey, reading: NodeReading): PortSurvey {
  const sources: Record<string, string> = {};
  for (const name of Object.keys(port.facts)) {
    const source = port.sources?.[name] ?? reading.portSources[name];
    if (source !== undefined) sources[name] = source;
  }
  return { ...port, sources, gaps: openGaps(port.facts, { ...reading.portGaps, ...port.gaps }) };
}

function openGaps(facts: Values, gaps: Readonly<Record<string, Gap>>): Record<string, Gap> {
  return Object.fromEntries(Object.entries(gaps).filter(([name]) => facts[name] === undefined));
}

function disagreements(a: NodeReading, b: NodeReading): Disagreement[] {
  const others = new Map(b.ports.map((port) => [port.name, port]));
  const found: Disagreement[] = [];
  for (const port of a.ports) {
    const other = others.get(port.name);
    if (other === undefined || port.facts.kind !== 'physical') continue;
    for (const fact of compared) {
      const [x, y] = [port.facts[fact], other.facts[fact]];
      if (x === undefined || y === undefined || x === y) continue;
      found.push({
        port: port.name,
        fact,
        values: [
          { value: String(x), source: port.sources?.[fact] ?? a.portSources[fact] ?? '' },
          { value: String(y), source: other.sources?.[fact] ?? b.portSources[fact] ?? '' },
        ],
      });
    }
  }
  return found;
}
