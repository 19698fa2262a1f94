import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { NodeSurvey, PortSurvey, Survey } from '../../src/facts/survey.ts';
import { judge } from '../../src/judge/judge.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import { loadShipped } from '../judge/shipped.ts';
import { type LinkSketch, makeIntent, type NodeSketch } from '../site/builders.ts';
import { makeYear } from './simulated-year.ts';

const nodeCount = 200;
const portCount = 50;
/** Links from a node to the one above it: a tree of two tiers below the first node. */
const fanOut = 40;
/** The last nodes have no cords to their neighbours, so that paths between them cross the tree. */
const endCount = 8;
/** One port in so many is slow, and one in so many is too small for the declared packet. */
const slowEvery = 151;
const smallEvery = 97;

/**
 * An audit of 200 switches with 50 ports each, read with every topic: a tree, and beside it 48 cords
 * between any two neighbours, so that nearly every port is declared and judged. About one port in
 * sixty has a fault. Counters and light levels differ on every port.
 */
export async function makePageSite(): Promise<AuditResult> {
  const survey = surveyOf(makeYear().nextNight());
  const intent = intentOf();
  const site = buildSite(intent, survey, { strict: false });
  const policies = await loadShipped('essential', 'jumbo', 'cabling');
  return {
    site,
    judgement: judge(subjectsOf(site), policies, { waivers: [], now: '2026-11-25' }),
    survey,
    startedAt: '2026-11-25T02:00:00.000Z',
    endedAt: '2026-11-25T02:01:00.000Z',
    toolVersion: '0.1.0',
    strict: false,
    least: 'warning',
  };
}

function intentOf() {
  const nodes: Record<string, NodeSketch> = {};
  const links: Record<string, LinkSketch> = {};
  const cord = {
    kind: 'cord',
    category: 'cat6a',
    lengthMetres: 3,
    text: 'cord cat6a 3 m',
  } as const;
  const link: LinkSketch = { untagged: 'storage', speedMbps: 10_000, run: [cord] };
  for (let at = 0; at < nodeCount; at += 1) {
    nodes[`sw-${at}`] = { mtuCounts: { port: 'payload' }, believe: ['mtu'], role: 'switch' };
    const above = Math.floor((at - 1) / fanOut);
    if (at > 0) links[`sw-${at}:p0 - sw-${above}:p${2 + ((at - 1) % fanOut)}`] = link;
  }
  const tierTop = Math.ceil(nodeCount / fanOut);
  for (let at = tierTop + 1; at + 1 < nodeCount - endCount; at += 2) {
    for (let port = 2; port < portCount; port += 1)
      links[`sw-${at}:p${port} - sw-${at + 1}:p${port}`] = { ...link, lag: `pair-${at}` };
  }
  const ends = Array.from({ length: endCount }, (_, at) => `sw-${nodeCount - endCount + at}`);
  const paths = Object.fromEntries(
    ends
      .slice(1)
      .map((end) => [`to-${end}`, { from: ends.slice(0, 1), to: [end], over: ['storage'] }]),
  );
  return makeIntent({ nodes, links, paths, segments: { storage: { mtuBytes: 9000 } } });
}

function surveyOf(read: Survey): Survey {
  return { ...read, nodes: read.nodes.map(nodeOf) };
}

/** What is heard of others would be another intent: it is left out. */
function nodeOf(node: NodeSurvey, at: number): NodeSurvey {
  const { neighbours: _, ...rest } = node;
  return {
    ...rest,
    ports: node.ports.map((port, place) => portOf(port, at * portCount + place)),
  };
}

function portOf(port: PortSurvey, at: number): PortSurvey {
  const facts: PortReadFacts = {
    ...port.facts,
    operUp: true,
    ...(at % slowEvery === 0 ? { speedMbps: 1000 } : {}),
    ...(at % smallEvery === 0 ? { mtuBytes: 1500 } : {}),
  };
  return { ...port, facts };
}
