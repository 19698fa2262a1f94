import type { FactValue } from '../facts/entry.ts';
import { byName } from '../facts/order.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import { changeReasons } from './change-reasons.ts';
import type { Change, FactChange, KnownNode, OlderValue } from './known-node.ts';
import { heardBy, type LastValues, viewKnown } from './known-view.ts';
import { matchPorts } from './match-ports.ts';
import { type Values, watchedNodeFacts, watchedPortFacts } from './watched-facts.ts';

/** What moved on a node, and what is known of it from now on. */
export interface Comparison {
  /** Of the node, then of its ports, each in the order of facts; empty on the first night. */
  readonly changes: readonly Change[];
  /** Absent: never read so far. */
  readonly known?: KnownNode;
}

/**
 * Compares one reading of a node, of an audit that ended `at`, with what is known of it. Only a
 * value against a value is a change: what could not be read says nothing, and is compared with its
 * age once it is read again. A node that was not read at all stays known as it was.
 */
export function compareNode(known: KnownNode | undefined, now: NodeSurvey, at: string): Comparison {
  if (!wasRead(now)) return known === undefined ? { changes: [] } : { changes: [], known };
  const fresh = { node: now.node, seenAt: at, survey: now };
  if (known === undefined) return { changes: [], known: { ...fresh, older: [] } };
  const view = viewKnown(known);
  const ports = matchPorts(known, now);
  const heard = heardBy(now);
  const sides: Side[] = [
    { where: { node: now.node }, before: view.ofNode, after: watchedNodeFacts(now) },
    ...ports.pairs.map(({ before, after }) => ({
      where: { node: now.node, port: after.name },
      before: view.ofPort(before),
      after: watchedPortFacts(after, heard(after.name)),
    })),
  ];
  const changes = [
    ...sides.slice(0, 1).flatMap(moved),
    ...ports.changes,
    ...sides.slice(1).flatMap(moved),
  ];
  return {
    changes: changeReasons(changes, { known, now, at }),
    known: { ...fresh, older: sides.flatMap(left) },
  };
}

interface Side {
  readonly where: { readonly node: string; readonly port?: string };
  readonly before: LastValues;
  readonly after: Values;
}

function moved({ where, before, after }: Side): FactChange[] {
  return Object.keys(after)
    .sort(byName)
    .flatMap((fact) => {
      const [was, is] = [before.values[fact], after[fact]];
      if (was === undefined || is === undefined || equal(was, is)) return [];
      return [{ kind: 'fact' as const, ...where, fact, was, is, seenAt: before.seenAt(fact) }];
    });
}

/** Lists of modes, addresses and members are sets: their order is the system's own business. */
function equal(a: FactValue, b: FactValue): boolean {
  if (typeof a !== 'object' || typeof b !== 'object') return a === b;
  if (a.length !== b.length) return false;
  const sorted = b.map(String).sort();
  return a
    .map(String)
    .sort()
    .every((each, at) => each === sorted[at]);
}

/** What this reading lacks and an earlier one had. */
function left({ where, before, after }: Side): OlderValue[] {
  return Object.entries(before.values).flatMap(([fact, value]) => {
    if (value === undefined || after[fact] !== undefined) return [];
    const port = where.port === undefined ? {} : { port: where.port };
    return [{ ...port, fact, value, seenAt: before.seenAt(fact) }];
  });
}
