import type { PortReadFacts } from '../facts/port-facts.ts';
import { restartedSince } from '../facts/restarted.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { PortRef } from './site-index.ts';

/** What was read of a node on an earlier night. */
export interface EarlierReading {
  /** End of that reading, ISO 8601 UTC. */
  readonly seenAt: string;
  readonly survey: NodeSurvey;
}

/** The same for one node while the site is joined, where its counters went on since. */
export interface CountedFrom {
  readonly at: string;
  readonly seconds: number;
  readonly ports: ReadonlyMap<string, PortReadFacts>;
}

/** Counters of one port on an earlier night, and the time since. */
export interface CountedSince {
  readonly at: string;
  readonly seconds: number;
  readonly facts: PortReadFacts;
}

/**
 * The earlier counters of a node; undefined where there are none to go on from: it was never read
 * before, it restarted since, or the time between is not known.
 */
export function countedFrom(
  earlier: EarlierReading | undefined,
  survey: NodeSurvey | undefined,
  at: string | undefined,
): CountedFrom | undefined {
  if (earlier === undefined || survey === undefined || at === undefined) return undefined;
  if (restartedSince(earlier, survey, at) !== false) return undefined;
  return {
    at: earlier.seenAt,
    seconds: (Date.parse(at) - Date.parse(earlier.seenAt)) / 1000,
    ports: new Map(earlier.survey.ports.map(({ name, facts }) => [name, facts])),
  };
}

/** The earlier counters of a port; undefined where it has none. */
export function countedSince({ node, survey }: PortRef): CountedSince | undefined {
  const { earlier } = node;
  const facts = survey === undefined ? undefined : earlier?.ports.get(survey.name);
  if (earlier === undefined || facts === undefined) return undefined;
  return { at: earlier.at, seconds: earlier.seconds, facts };
}
