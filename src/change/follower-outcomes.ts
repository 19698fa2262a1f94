import type { FactValue } from '../facts/entry.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import { portId } from '../site/site-index.ts';
import { wantedMtus } from './apply-steps.ts';
import { lineParts } from './asked-line.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { FollowerOutcome, StepOutcome } from './confirmation.ts';
import { stateAfter } from './foretell.ts';
import { factReader, type ReadFact, sameValue, whyAbsent } from './port-reading.ts';
import { stepFact } from './step-facts.ts';
import type { ChangeStep } from './types.ts';

/**
 * The steps as they were really taken: without those that are not done, with the value that was
 * found where it is another, and with later ones that are done already. What cannot be told counts
 * as taken, so that it excuses nothing.
 */
export function stepsTaken(
  order: readonly ChangeStep[],
  outcomes: readonly StepOutcome[],
): ChangeStep[] {
  return order.flatMap((step, at) => {
    const { verdict, expected, is } = outcomes[at] ?? {};
    if (verdict === 'done') return [step];
    if (verdict === 'other') return is === undefined ? [step] : [{ ...step, to: is }];
    return verdict === 'cannot-tell' && expected === true ? [step] : [];
  });
}

/** Keys of what the steps themselves set: `node port fact` with the node's own port name. */
export function ownTargets({ kept, order }: ConfirmBench): ReadonlySet<string> {
  return new Set(
    order.flatMap(lineParts).flatMap((step) => {
      const fact = stepFact(step.setting);
      if (fact === undefined) return [];
      if (step.portName !== undefined) return [factKey(step.node, step.portName, fact)];
      const node = kept.nodes.find((each) => each.node === step.node);
      if (step.port !== undefined || node === undefined) return [];
      return [...wantedMtus(node, [step]).keys()].map((name) => factKey(step.node, name, fact));
    }),
  );
}

/** One fact of one port, as a key. */
export function factKey(node: string, portName: string | undefined, fact: string): string {
  return JSON.stringify([node, portName, fact]);
}

/** What follows the steps on other ports (members, VLANs, bridges) and is not as foretold. */
export function followerOutcomes(bench: ConfirmBench, taken: ReadFact): FollowerOutcome[] {
  const own = ownTargets(bench);
  const before = new Map(bench.kept.nodes.map((node) => [node.node, node]));
  return bench.foretold.survey.nodes.flatMap((node) => {
    const was = before.get(node.node);
    return was === undefined ? [] : nodeFollowers(bench, { was, node, own, taken });
  });
}

/** What would be read if the steps that were really taken were all. */
export function readerOfTaken(
  { planned, kept, order }: ConfirmBench,
  outcomes: readonly StepOutcome[],
): ReadFact {
  return factReader(stateAfter(planned, kept, stepsTaken(order, outcomes)).survey);
}

interface Follow {
  readonly was: NodeSurvey;
  readonly node: NodeSurvey;
  readonly own: ReadonlySet<string>;
  readonly taken: ReadFact;
}

function nodeFollowers({ index }: ConfirmBench, follow: Follow): FollowerOutcome[] {
  const { was, node, own, taken } = follow;
  const view = index.nodes.get(node.node);
  // The steps on a node that was not read say so themselves.
  if (view === undefined || view.gap !== undefined) return [];
  const ports = new Map(was.ports.map((port) => [port.name, port]));
  return node.ports.flatMap((port) =>
    setOn(port, ports.get(port.name)).flatMap(([fact, foretold]) => {
      if (own.has(factKey(node.node, port.name, fact))) return [];
      const is = valuesOf(view.ports.get(port.name))[fact];
      const models = [foretold, taken(node.node, port.name, fact)];
      if (is !== undefined && models.some((model) => agrees(fact, is, model))) return [];
      const seen = is === undefined ? { why: whyAbsent(view, port.name, fact) } : { is };
      const { node: name } = node;
      const on = portId(view, port.name);
      return [{ on, node: name, portName: port.name, fact, foretold, ...seen }];
    }),
  );
}

type Values = Readonly<Record<string, FactValue | undefined>>;

function valuesOf(port: PortSurvey | undefined): Values {
  return port?.facts ?? {};
}

/** What the foretold state has set on a port. */
function setOn(now: PortSurvey, before: PortSurvey | undefined): [string, FactValue][] {
  const was = valuesOf(before);
  return Object.entries(valuesOf(now)).flatMap(([fact, value]) =>
    value === undefined || sameValue(value, was[fact]) ? [] : [[fact, value]],
  );
}

/** A driver's own limit may be larger than the packet; all else has to be the same. */
function agrees(fact: string, is: FactValue, model: FactValue | undefined): boolean {
  if (fact === 'driverMtuBytes' && typeof is === 'number' && typeof model === 'number')
    return is >= model;
  return sameValue(is, model);
}
