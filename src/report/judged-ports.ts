import type { FactValue } from '../facts/entry.ts';
import { byName } from '../facts/order.ts';
import { gapOf } from '../facts/subject.ts';
import type { Site, SitePort } from '../site/types.ts';
import { gapWords } from './fact-words.ts';
import { clean } from './layout.ts';

/** Every judged port once, in the order of their names. */
export function judgedPorts({ ports }: Site): readonly SitePort[] {
  const byId = new Map(ports.map((port) => [port.id, port]));
  return [...byId.values()].sort((a, b) => byName(a.id, b.id));
}

/** A fact of a port, read or derived; undefined: absent. */
export function portFact({ subject }: SitePort, name: string): FactValue | undefined {
  return subject.facts[name];
}

/** Why each of `names` is absent: `mtuBytes: the node would not tell (permission denied)`. */
export function portGaps(port: SitePort, names: readonly string[]): readonly string[] {
  return names.flatMap((name) => {
    if (portFact(port, name) !== undefined) return [];
    const gap = gapOf(port.subject, name);
    return gap === undefined ? [] : [clean(`${name}: ${gapWords[gap.reason]} (${gap.words})`)];
  });
}
