import type { Gaps } from '../../src/facts/gap.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Place, Subject } from '../../src/facts/subject.ts';
import type {
  NodeSurvey,
  PortSurvey,
  RouteReading,
  SessionReading,
  Survey,
} from '../../src/facts/survey.ts';
import type { Trouble } from '../../src/facts/trouble.ts';
import type {
  DeclaredLink,
  DeclaredNode,
  DeclaredPath,
  DeclaredPort,
  DeclaredSegment,
  Intent,
  RunPiece,
} from '../../src/intent/types.ts';
import type { Site } from '../../src/site/types.ts';

/** A place in an intent that no file stands behind. */
export const place: Place = { file: 'hopgauge.yaml', line: 1, column: 1 };

export interface NodeSketch extends Partial<Omit<DeclaredNode, 'name' | 'ports'>> {
  readonly ports?: Readonly<Record<string, Partial<DeclaredPort>>>;
}

export type LinkSketch = Partial<Omit<DeclaredLink, 'ends' | 'id' | 'run'>> & {
  readonly run?: readonly (Partial<RunPiece> & Pick<RunPiece, 'kind'>)[];
};

export interface IntentSketch {
  readonly nodes: Readonly<Record<string, NodeSketch>>;
  readonly segments?: Readonly<Record<string, Partial<DeclaredSegment>>>;
  /** `a:port - b:port` with the rest of the link. */
  readonly links?: Readonly<Record<string, LinkSketch>>;
  readonly paths?: Readonly<Record<string, Partial<DeclaredPath>>>;
}

/** An intent as the loader would give it, with defaults for what a test does not care about. */
export function makeIntent(sketch: IntentSketch): Intent {
  return {
    intent: 1,
    site: 'Saltmarsh survey office',
    files: ['hopgauge.yaml'],
    nodes: Object.entries(sketch.nodes).map(([name, node]) => makeNode(name, node)),
    segments: Object.entries(sketch.segments ?? {}).map(([name, segment]) => ({
      name,
      place,
      ipv6: false,
      ...segment,
    })),
    links: Object.entries(sketch.links ?? {}).map(([id, link]) => makeLink(id, link)),
    paths: Object.entries(sketch.paths ?? {}).map(([name, path]) => ({
      name,
      place,
      from: [],
      to: [],
      over: [],
      ...path,
    })),
    policies: [],
    waivers: [],
  };
}

function makeNode(name: string, { ports, ...node }: NodeSketch): DeclaredNode {
  return {
    name,
    place,
    access: [],
    role: name.endsWith('-sw') || node.unread === 'switch' ? 'switch' : 'host',
    sleeps: false,
    mayBeAbsent: false,
    routes: false,
    mtuCounts: {},
    believe: [],
    identity: {},
    ...node,
    ports: Object.entries(ports ?? {}).map(([alias, port]) => ({ alias, place, ...port })),
  };
}

function makeLink(id: string, { run, ...link }: LinkSketch): DeclaredLink {
  const [a, b] = id.split(' - ').map((end) => {
    const at = end.indexOf(':');
    return { node: end.slice(0, at), port: end.slice(at + 1), place };
  });
  if (a === undefined || b === undefined) throw new Error(`not a link: ${id}`);
  const pieces = (run ?? []).map((piece) => ({
    fieldTerminated: false,
    text: piece.kind,
    place,
    ...piece,
  }));
  return { id, place, ends: [a, b], tagged: [], duplex: 'full', ...link, run: pieces };
}

export interface NodeReadingSketch
  extends Partial<Omit<NodeSurvey, 'node' | 'ports' | 'routes' | 'sessions'>> {
  /** By the node's own port names; defaults are those of a healthy 10 Gb/s port at 1500. */
  readonly ports?: Readonly<Record<string, PortReadFacts>>;
  readonly portOwnGaps?: Readonly<Record<string, Gaps>>;
  /** Port by address, or the whole reading. */
  readonly routes?: Readonly<Record<string, string | Partial<RouteReading>>>;
  readonly sessions?: readonly Partial<SessionReading>[];
  readonly trouble?: Trouble;
}

/** A survey as the collector would give it. */
export function makeSurvey(nodes: Readonly<Record<string, NodeReadingSketch>>): Survey {
  return {
    survey: 1,
    site: 'Saltmarsh survey office',
    startedAt: '2026-11-25T02:00:00.000Z',
    endedAt: '2026-11-25T02:00:09.000Z',
    nodes: Object.entries(nodes).map(([name, sketch]) => makeNodeSurvey(name, sketch)),
  };
}

function makeNodeSurvey(node: string, sketch: NodeReadingSketch): NodeSurvey {
  const { ports, portOwnGaps, routes, sessions, trouble, ...rest } = sketch;
  return {
    node,
    readings: [
      {
        by: node.endsWith('-sw') ? 'snmp' : 'ssh',
        at: `${node}.office.example`,
        startedAt: '2026-11-25T02:00:00.000Z',
        tookMs: 40,
        ...(trouble === undefined ? {} : { trouble }),
      },
    ],
    facts: {},
    sources: {},
    gaps: {},
    portSources: { mtuBytes: node.endsWith('-sw') ? 'IF-MIB ifMtu' : 'ip link mtu' },
    portGaps: {},
    ports: Object.entries(ports ?? {}).map(([name, facts]) =>
      makePort(name, facts, portOwnGaps?.[name]),
    ),
    routes: Object.entries(routes ?? {}).map(([to, route]) =>
      typeof route === 'string' ? { to, device: route } : { to, ...route },
    ),
    sessions: (sessions ?? []).map((session) => ({
      local: '198.18.0.1',
      remote: '198.18.0.2',
      count: 1,
      segmentBytes: 1448,
      timestamps: true,
      ...session,
    })),
    mounts: [],
    disagreements: [],
    ...rest,
  };
}

function makePort(name: string, facts: PortReadFacts, gaps: Gaps | undefined): PortSurvey {
  const healthy: PortReadFacts = {
    kind: 'physical',
    adminUp: true,
    operUp: true,
    mtuBytes: 1500,
    speedMbps: 10_000,
    duplex: 'full',
  };
  const kept = Object.entries({ ...healthy, ...facts }).filter(([key]) => !(key in (gaps ?? {})));
  return { name, facts: Object.fromEntries(kept), ...(gaps === undefined ? {} : { gaps }) };
}

/** The subject of one kind and id; fails when the site has none. */
export function subjectIn(
  site: Site,
  kind: 'nodes' | 'ports' | 'links' | 'segments' | 'paths' | 'directions',
  id: string,
): Subject {
  const found = site[kind].find((each) => each.subject.id === id)?.subject;
  if (found === undefined) throw new Error(`the site has no ${id} among its ${kind}`);
  return found;
}
