import { mergeReadings } from '../../src/collect/merge-readings.ts';
import type { FactValue } from '../../src/facts/entry.ts';
import type { Gap } from '../../src/facts/gap.ts';
import type { Place, Subject } from '../../src/facts/subject.ts';
import type { NodeSurvey, Survey } from '../../src/facts/survey.ts';
import type { DeclaredLink, DeclaredNode, RunPiece } from '../../src/intent/types.ts';
import type { Finding, Judgement } from '../../src/judge/types.ts';
import type { AuditResult } from '../../src/report/types.ts';
import type { Hop, Site, SiteLink, SitePath, SitePort } from '../../src/site/types.ts';

/** Sites built by hand, so that a report is tested without anything that makes sites. */

export const file = 'hopgauge.yaml';
export const at = (line: number): Place => ({ file, line, column: 5 });

type Facts = Readonly<Record<string, FactValue | undefined>>;

export function subject(kind: Subject['kind'], id: string, facts: Facts, source = ''): Subject {
  const sources = source === '' ? {} : { mtuBytes: source };
  return { kind, id, facts: { id, ...facts }, shared: { sources, gaps: {} } };
}

export interface HopSketch {
  readonly port: string;
  readonly least?: number;
  readonly most?: number;
  readonly gap?: Gap;
  readonly speed?: number;
  readonly duplex?: string;
  readonly distance: number;
  readonly link?: string;
  readonly run?: readonly RunPiece[];
  readonly narrowest?: boolean;
  readonly slowest?: boolean;
  readonly onWord?: boolean;
  readonly layer?: boolean;
  readonly inUse?: boolean;
  readonly idleBecause?: 'spanning-tree' | 'lacp';
  readonly facts?: Facts;
  readonly source?: string;
}

export function hop(sketch: HopSketch): Hop {
  const [node = ''] = sketch.port.split(':');
  const facts = { mtuBytes: sketch.most, declaredDuplex: 'full', ...sketch.facts };
  const port: SitePort = {
    id: sketch.port,
    node,
    subject: subject('port', sketch.port, facts, sketch.source ?? 'ip link mtu'),
    ...(sketch.gap === undefined && sketch.onWord !== true
      ? { survey: { name: sketch.port.slice(node.length + 1), facts: {} } }
      : {}),
  };
  return {
    port,
    clearance: {
      ...(sketch.least === undefined ? {} : { atLeastBytes: sketch.least }),
      ...(sketch.most === undefined ? {} : { atMostBytes: sketch.most }),
      ...(sketch.gap === undefined ? {} : { gap: sketch.gap }),
      onWord: sketch.onWord ?? false,
    },
    ...(sketch.speed === undefined ? {} : { speedMbps: sketch.speed }),
    ...(sketch.duplex === undefined ? {} : { duplex: sketch.duplex }),
    position: sketch.distance === 0 ? 'from' : 'switch',
    distance: sketch.distance,
    runToNext: sketch.run ?? [],
    ...(sketch.link === undefined ? {} : { linkId: sketch.link }),
    narrowest: sketch.narrowest ?? false,
    slowest: sketch.slowest ?? false,
    layer: sketch.layer ?? false,
    ...(sketch.inUse === undefined ? {} : { inUse: sketch.inUse }),
    ...(sketch.idleBecause === undefined ? {} : { idleBecause: sketch.idleBecause }),
  };
}

export function piece(kind: RunPiece['kind'], text: string, label?: string): RunPiece {
  const named = label === undefined ? {} : { label };
  return { kind, text, fieldTerminated: false, place: at(24), ...named };
}

export function path(name: string, hops: readonly Hop[], facts: Facts): SitePath {
  const from = hops[0]?.port.node ?? '';
  const to = hops.at(-1)?.port.node ?? '';
  return {
    id: name,
    declared: { name, place: at(31), from: [from], to: [to], over: ['storage'] },
    from,
    to,
    hops,
    subject: subject('path', name, { declaredMtuBytes: 9000, connected: true, ...facts }),
  };
}

export interface NodeSketch {
  readonly name: string;
  readonly role?: 'host' | 'switch';
  readonly mtuCounts?: DeclaredNode['mtuCounts'];
  readonly trouble?: { readonly seen: string; readonly remedy: string };
  readonly unread?: DeclaredNode['unread'];
}

function declaredNode({ name, role, mtuCounts, unread }: NodeSketch): DeclaredNode {
  return {
    name,
    place: at(9),
    at: `${name}.office.example`,
    access: unread === undefined ? [{ via: 'ssh', name: 'hosts', user: 'auditor' }] : [],
    role: role ?? 'host',
    sleeps: false,
    mayBeAbsent: false,
    routes: false,
    mtuCounts: mtuCounts ?? {},
    believe: [],
    identity: {},
    ports: [],
    ...(unread === undefined ? {} : { unread }),
  };
}

export function nodeSurvey({ name, trouble }: NodeSketch): NodeSurvey {
  return {
    node: name,
    readings: [
      {
        by: 'ssh',
        at: `${name}.office.example`,
        startedAt: '2026-11-25T02:00:00.000Z',
        tookMs: 400,
        ...(trouble === undefined ? {} : { trouble: { kind: 'no-answer', ...trouble } }),
      },
    ],
    ...mergeReadings([]),
  };
}

export interface SampleSketch {
  readonly nodes: readonly NodeSketch[];
  readonly paths: readonly SitePath[];
  readonly links?: readonly { readonly id: string; readonly lag?: string }[];
  readonly findings?: readonly Finding[];
  readonly met?: number;
  readonly judgement?: Partial<Judgement>;
}

function siteLink({ id, lag }: { readonly id: string; readonly lag?: string }): SiteLink {
  const [a = '', b = ''] = id.split(' - ');
  const end = (port: string): SitePort => ({
    id: port,
    node: port.split(':')[0] ?? '',
    subject: subject('port', port, {}),
  });
  const linkEnd = (port: string) => ({
    node: port.split(':')[0] ?? '',
    port: port.slice(port.indexOf(':') + 1),
    place: at(24),
  });
  const declared: DeclaredLink = {
    id,
    place: at(24),
    ends: [linkEnd(a), linkEnd(b)],
    tagged: [],
    duplex: 'full',
    run: [],
    ...(lag === undefined ? {} : { lag }),
  };
  return { declared, ends: [end(a), end(b)], subject: subject('link', id, {}) };
}

export function sample(sketch: SampleSketch): AuditResult {
  const nodes = sketch.nodes.map((node) => {
    const survey = node.unread === undefined ? { survey: nodeSurvey(node) } : {};
    const declared = declaredNode(node);
    return { declared, subject: subject('node', node.name, {}), ...survey };
  });
  const survey: Survey = {
    survey: 1,
    site: 'Saltmarsh survey office',
    startedAt: '2026-11-25T02:00:00.000Z',
    endedAt: '2026-11-25T02:00:02.140Z',
    nodes: nodes.flatMap((node) => node.survey ?? []),
  };
  const site: Site = {
    intent: {
      intent: 1,
      site: 'Saltmarsh survey office',
      files: [file],
      nodes: nodes.map(({ declared }) => declared),
      segments: [],
      links: (sketch.links ?? []).map((link) => siteLink(link).declared),
      paths: sketch.paths.map(({ declared }) => declared),
      policies: [],
      waivers: [],
    },
    nodes,
    ports: sketch.paths.flatMap(({ hops }) => hops.map(({ port }) => port)),
    links: (sketch.links ?? []).map(siteLink),
    segments: [],
    paths: sketch.paths,
    directions: [],
  };
  const findings = sketch.findings ?? [];
  const count = (verdict: Finding['verdict']) =>
    findings.filter((finding) => finding.verdict === verdict).length;
  return {
    site,
    judgement: {
      findings,
      faults: [],
      tally: {
        met: sketch.met ?? 20,
        broken: count('broken'),
        undetermined: count('undetermined'),
        waived: count('waived'),
        notApplicable: 3,
      },
      waiversExpired: [],
      waiversMet: [],
      watched: new Map(),
      ...sketch.judgement,
    },
    survey,
    startedAt: '2026-11-25T02:00:00.000Z',
    endedAt: '2026-11-25T02:00:02.200Z',
    toolVersion: '0.1.0',
    strict: false,
    least: 'warning',
  };
}
