import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Subject } from '../../src/facts/subject.ts';
import type { NodeSurvey, Survey } from '../../src/facts/survey.ts';
import { judge } from '../../src/judge/judge.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import type { Site, SitePort } from '../../src/site/types.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { makeLargeSite } from './large-site.ts';
import { makePorts, shippedPolicies } from './verdicts.ts';

/** Facts of the judged ports that a reading holds. */
const readNames = ['adminUp', 'operUp', 'speedMbps', 'duplex'] as const;

const counterNames = [
  ...['rxOctets', 'txOctets', 'rxFrames', 'txFrames', 'rxErrors', 'txErrors', 'rxDropped'],
  ...['txDropped', 'rxCrcErrors', 'rxAlignmentErrors', 'rxTooLong', 'rxSymbolErrors'],
  ...['lateCollisions', 'rxPauseFrames', 'txPauseFrames'],
] as const;

/**
 * The audit of half a million ports on switches of 52 of them, a twentieth of their facts absent;
 * beside them 480 hosts with paths to two of eight stores, every third at 1400 bytes where 1500 are
 * declared.
 */
export async function makeReportSite(): Promise<AuditResult> {
  const { intent, survey } = makeLargeSite((host) => (host % 3 === 0 ? 1400 : 1500));
  const joined = buildSite(intent, survey, { strict: false });
  const subjects = makePorts();
  const ports = subjects.map(portOf);
  const more = nodesOf(ports);
  const site: Site = {
    ...joined,
    nodes: [...joined.nodes, ...more],
    ports: [...joined.ports, ...ports],
  };
  const policies = await shippedPolicies();
  return {
    site,
    judgement: judge([...subjectsOf(joined), ...subjects], policies, {
      waivers: [],
      now: '2026-11-26',
    }),
    survey: { ...survey, nodes: [...survey.nodes, ...more.flatMap((node) => node.survey ?? [])] },
    startedAt: '2026-11-26T02:00:00.000Z',
    endedAt: '2026-11-26T02:10:00.000Z',
    toolVersion: '0.1.0',
    strict: false,
    least: 'warning',
  };
}

/** A port as a plain reading over SNMP gives it. */
function portOf(subject: Subject, at: number): SitePort {
  const { id, node } = subject.facts;
  const read = readNames.flatMap((name) => {
    const value = subject.facts[name];
    return value === undefined ? [] : [[name, value] as const];
  });
  const facts: PortReadFacts = {
    ifIndex: 10_000 + at,
    ifType: 6,
    kind: 'physical',
    alias: `to host-${at}`,
    mtuBytes: 9198,
    ...Object.fromEntries(read),
    ...Object.fromEntries(counterNames.map((name, nth) => [name, (at * 7919 * (nth + 1)) % 1e9])),
  };
  const name = String(id).slice(String(node).length + 1);
  return { id: String(id), node: String(node), subject, survey: { name, facts } };
}

function nodesOf(ports: readonly SitePort[]): Site['nodes'] {
  const byNode = new Map<string, SitePort[]>();
  for (const port of ports) {
    const own = byNode.get(port.node);
    if (own === undefined) byNode.set(port.node, [port]);
    else own.push(port);
  }
  const names = [...byNode.keys()];
  const { nodes } = makeIntent({ nodes: Object.fromEntries(names.map((name) => [name, {}])) });
  const template: Survey = makeSurvey({ any: { facts: {}, ports: {} } });
  const [any] = template.nodes;
  if (any === undefined) throw new Error('a survey without a node');
  const shared = { sources: {}, gaps: {} };
  return nodes.map((declared) => {
    const own = byNode.get(declared.name) ?? [];
    const survey: NodeSurvey = {
      ...any,
      node: declared.name,
      ports: own.flatMap((port) => port.survey ?? []),
    };
    return { declared, survey, subject: { kind: 'node', id: declared.name, facts: {}, shared } };
  });
}
