import type { FactValue } from '../facts/entry.ts';
import type { NeighbourReading, NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type { KnownNode, OlderValue } from './known-node.ts';
import { type Values, watchedNodeFacts, watchedPortFacts } from './watched-facts.ts';

/** The last known values of a node or of one of its ports, each with its age. */
export interface LastValues {
  readonly values: Values;
  readonly seenAt: (fact: string) => string;
}

/** What was known before, by port; made once for a node, so that no list is searched twice. */
export interface KnownView {
  readonly ofNode: LastValues;
  readonly ofPort: (port: PortSurvey) => LastValues;
}

/** The last known values of a node. */
export function viewKnown(known: KnownNode): KnownView {
  const older = groupBy(known.older, ({ port }) => port ?? '');
  const heard = heardBy(known.survey);
  const last = (read: Values, left: readonly OlderValue[] = []): LastValues => {
    const ages = new Map(left.map(({ fact, seenAt }) => [fact, seenAt]));
    const before: Record<string, FactValue> = {};
    for (const { fact, value } of left) before[fact] = value;
    return {
      values: { ...before, ...read },
      seenAt: (fact) =>
        read[fact] === undefined ? (ages.get(fact) ?? known.seenAt) : known.seenAt,
    };
  };
  return {
    ofNode: last(watchedNodeFacts(known.survey), older.get('')),
    ofPort: (port) => last(watchedPortFacts(port, heard(port.name)), older.get(port.name)),
  };
}

/** Who announces itself at each port of a node. */
export function heardBy({
  neighbours = [],
}: NodeSurvey): (port: string) => readonly NeighbourReading[] {
  const byPort = groupBy(neighbours, ({ port }) => port);
  return (port) => byPort.get(port) ?? [];
}

function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}
