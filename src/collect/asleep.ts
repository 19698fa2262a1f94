import type { NodeSurvey } from '../facts/survey.ts';
import type { Trouble } from '../facts/trouble.ts';

/** The other end of a link of a node that may sleep. */
export interface FarPort {
  readonly node: string;
  /** Its name on that node: the declared one, and the alias where it has one. */
  readonly names: readonly string[];
}

/**
 * Why a node that may sleep is not asked: every port at the other end of its links was read and
 * has no link. A connection would only wake it, or wait in vain. Undefined: it is asked.
 */
export function asleepTrouble(
  farPorts: readonly FarPort[],
  read: ReadonlyMap<string, NodeSurvey>,
): Trouble | undefined {
  const down = farPorts.map(({ node, names }) => {
    const port = read.get(node)?.ports.find(({ name }) => names.includes(name));
    return port?.facts.operUp === false ? `${node}:${names[0] ?? port.name}` : undefined;
  });
  const known = down.filter((each) => each !== undefined);
  if (known.length === 0 || known.length < down.length) return undefined;
  return {
    kind: 'asleep',
    seen: `not asked: no link at ${known.join(', ')}, so that it sleeps or is away`,
    remedy: 'nothing, while it may; wake it and run this again to read it',
  };
}
