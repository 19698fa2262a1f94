import type { FactEntry, FactValue } from '../facts/entry.ts';
import { nodeReadFacts } from '../facts/node-facts.ts';
import { portReadFacts } from '../facts/port-facts.ts';
import type { NeighbourReading, NodeSurvey, PortSurvey } from '../facts/survey.ts';

/** Values by the name of the fact. */
export type Values = Readonly<Record<string, FactValue | undefined>>;

const watchedOfNode = steady(nodeReadFacts);
const watchedOfPort = steady(portReadFacts);

function steady(entries: Readonly<Record<string, FactEntry>>): readonly string[] {
  return Object.keys(entries).filter((name) => entries[name]?.varies === undefined);
}

/** Facts of a node of which a new value is news. */
export function watchedNodeFacts(survey: NodeSurvey): Values {
  return only(survey.facts, watchedOfNode);
}

/** Facts of a port of which a new value is news, with who announces itself there. */
export function watchedPortFacts(port: PortSurvey, heard: readonly NeighbourReading[]): Values {
  const facts = only(port.facts, watchedOfPort);
  return heard.length === 0 ? facts : { ...facts, neighbour: heard.map(neighbourWords).sort() };
}

function only(facts: Values, names: readonly string[]): Values {
  const kept: Record<string, FactValue> = {};
  for (const name of names) {
    const value = facts[name];
    if (value !== undefined) kept[name] = value;
  }
  return kept;
}

/** A neighbour in a few words that stay the same while it does: `quay-sw xg3`. */
function neighbourWords({ systemName, chassis, portId, portText, portIdKind }: NeighbourReading) {
  // A port that is named by its MAC address says more by its description.
  const port = portIdKind === 'mac' ? (portText ?? portId) : portId;
  return `${systemName ?? chassis} ${port}`;
}
