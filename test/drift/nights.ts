import type { KnownNode } from '../../src/drift/known-node.ts';
import type { NodeReadFacts } from '../../src/facts/node-facts.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { NeighbourReading, NodeSurvey } from '../../src/facts/survey.ts';

/** What differs between the nights of one simulated switch. */
export interface NightOf {
  readonly node?: NodeReadFacts;
  readonly ports?: Readonly<Record<string, PortReadFacts>>;
  readonly neighbours?: readonly NeighbourReading[];
  readonly gaps?: NodeSurvey['gaps'];
  readonly silent?: boolean;
}

export const firstNight = '2026-11-24T02:00:05.000Z';
export const secondNight = '2026-11-25T02:00:05.000Z';
export const thirdNight = '2026-11-26T02:00:05.000Z';

/** A reading of quay-sw. */
export function reading(night: NightOf): NodeSurvey {
  const trouble = { kind: 'silent', seen: 'no answer', remedy: 'look at it' } as const;
  return {
    node: 'quay-sw',
    readings: [
      {
        by: 'snmp',
        at: '198.18.0.2',
        startedAt: firstNight,
        tookMs: 12,
        ...(night.silent === true ? { trouble } : {}),
      },
    ],
    facts: night.node ?? {},
    sources: {},
    gaps: night.gaps ?? {},
    portSources: {},
    portGaps: {},
    ports: Object.entries(night.ports ?? {}).map(([name, facts]) => ({ name, facts })),
    routes: [],
    sessions: [],
    mounts: [],
    ...(night.neighbours === undefined ? {} : { neighbours: night.neighbours }),
    disagreements: [],
  };
}

/** What is known after that reading alone. */
export function knownFrom(night: NightOf, seenAt = firstNight): KnownNode {
  return { node: 'quay-sw', seenAt, survey: reading(night), older: [] };
}

/** Somebody who announces itself at xg3. */
export function neighbour(systemName: string, portId: string): NeighbourReading {
  return {
    port: 'xg3',
    chassis: '02:00:5e:00:00:09',
    chassisKind: 'mac',
    portId,
    portIdKind: 'name',
    systemName,
    capabilities: [],
    addresses: [],
  };
}
