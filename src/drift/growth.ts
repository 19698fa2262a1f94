import { restartedSince } from '../facts/restarted.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import type { KnownNode } from './known-node.ts';
import type { Growth } from './night.ts';

/** Counters of what goes wrong. Those of traffic grow every night and say nothing by themselves. */
const watchedCounters = [
  'rxErrors',
  'txErrors',
  'rxCrcErrors',
  'rxAlignmentErrors',
  'rxSymbolErrors',
  'rxTooLong',
  'rxOversize',
  'rxFragments',
  'rxJabbers',
  'forwardTooLong',
  'lateCollisions',
  'carrierChanges',
  'linkDownEvents',
] as const;

/**
 * What the ports of a node counted since it was last read; only what is more than none. A counter
 * that began again (the node restarted, or the number fell) tells nothing of the time between.
 */
export function growthsOf(
  known: KnownNode | undefined,
  now: NodeSurvey,
  at: string,
): readonly Growth[] {
  if (known === undefined || !wasRead(now) || restartedSince(known, now, at) === true) return [];
  const before = new Map(known.survey.ports.map((port) => [port.name, port]));
  return now.ports.flatMap((port) => grown(now.node, before.get(port.name), port));
}

function grown(node: string, before: PortSurvey | undefined, after: PortSurvey): Growth[] {
  return watchedCounters.flatMap((fact) => {
    const [was, is] = [before?.facts[fact], after.facts[fact]];
    if (was === undefined || is === undefined || is <= was) return [];
    return [{ node, port: after.name, fact, added: is - was }];
  });
}

/** Whether counters of a node began again since it was last read, so that they tell nothing since. */
export function countersBeganAgain(known: KnownNode, now: NodeSurvey, at: string): boolean {
  if (!wasRead(now)) return false;
  if (restartedSince(known, now, at) === true) return true;
  const before = new Map(known.survey.ports.map((port) => [port.name, port.facts]));
  return now.ports.some(({ name, facts }) =>
    watchedCounters.some((fact) => {
      const [was, is] = [before.get(name)?.[fact], facts[fact]];
      return was !== undefined && is !== undefined && is < was;
    }),
  );
}
