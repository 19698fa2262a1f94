import type { FactValue } from '../facts/entry.ts';
import type { Survey } from '../facts/survey.ts';
import type { NodeView } from '../site/node-view.ts';

/** The value of a port's fact in a survey, by node, the node's own port name, and fact. */
export type ReadFact = (node: string, portName: string, fact: string) => FactValue | undefined;

/** Looks facts of ports up in one survey. */
export function factReader({ nodes }: Survey): ReadFact {
  const facts = new Map(
    nodes.map(({ node, ports }) => [
      node,
      new Map(
        ports.map((port): [string, Readonly<Record<string, FactValue | undefined>>] => [
          port.name,
          port.facts,
        ]),
      ),
    ]),
  );
  return (node, portName, fact) => facts.get(node)?.get(portName)?.[fact];
}

/** Why a fact of a port has no value, in words. */
export function whyAbsent(view: NodeView | undefined, portName: string, fact: string): string {
  if (view === undefined) return 'the intent has no such node';
  const { declared, gap, ports, portProvenance } = view;
  if (gap !== undefined) return `${declared.name} could not be read: ${gap.words}`;
  const port = ports.get(portName);
  if (port === undefined) return `${declared.name} shows no port ${portName}`;
  return (port.gaps?.[fact] ?? portProvenance.gaps[fact])?.words ?? 'it does not say';
}

/** Whether two values of a fact are the same; lists are sets. */
export function sameValue(a: FactValue | undefined, b: FactValue | undefined): boolean {
  if (typeof a !== 'object' || typeof b !== 'object') return a === b;
  const sorted = (list: readonly (string | number)[]) => JSON.stringify(list.map(String).sort());
  return sorted(a) === sorted(b);
}
