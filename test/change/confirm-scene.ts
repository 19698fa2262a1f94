import { confirm } from '../../src/change/confirm.ts';
import type { Confirmation } from '../../src/change/confirmation.ts';
import { stateAfter } from '../../src/change/foretell.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { NodeSurvey, PortSurvey, Survey } from '../../src/facts/survey.ts';
import type { Policy } from '../../src/judge/policy.ts';
import { planned, type TwoSwitchesSketch, twoSwitches } from './two-switches.ts';

export const raise = 'about: storage to 9000\nsegments: { storage: { mtu: 9000 } }';

export interface Scene {
  readonly text?: string;
  readonly sketch?: Partial<TwoSwitchesSketch>;
  /** Steps that were really taken, from the first; absent: all. */
  readonly taken?: number;
  /** Number up to which it is confirmed; absent: all. */
  readonly upTo?: number;
  /** Facts that were counted or read before. */
  readonly before?: (survey: Survey) => Survey;
  /** What is otherwise once the steps are taken. */
  readonly after?: (survey: Survey) => Survey;
  readonly policies?: readonly Policy[];
}

/** The change of two-switches, rehearsed, made, and confirmed. */
export function scene(given: Scene = {}): Confirmation {
  const { text = raise, sketch, before = same, after = same, policies = [] } = given;
  const made = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500, ...sketch });
  const { intent } = made;
  const kept = before(made.survey);
  const plan = planned(text, intent, kept);
  const now = '2026-11-25T03:00:00.000Z';
  const { order } = rehearse({ intent, survey: kept, policies, now }, plan);
  if (order === undefined) throw new Error('no order');
  const done = order.steps.slice(0, given.taken ?? order.steps.length);
  const read = stateAfter(plan, kept, done).survey;
  const survey = after({
    ...read,
    startedAt: '2026-11-25T03:00:00.000Z',
    endedAt: '2026-11-25T03:00:09.000Z',
  });
  const upTo = given.upTo ?? order.steps.length;
  return confirm(
    { before: intent, planned: plan, order: order.steps, kept, survey, policies, now, upTo },
    { change: 'change.yaml', rehearsedAt: '2026-11-25T02:10:00.000Z' },
  );
}

function same(survey: Survey): Survey {
  return survey;
}

/** A survey in which some ports, by `node:port`, have other facts; `undefined` takes one away. */
export function withPorts(
  ports: Readonly<Record<string, { readonly [K in keyof PortReadFacts]?: unknown }>>,
): (survey: Survey) => Survey {
  return onNodes((node) => ({
    ...node,
    ports: node.ports.map((port): PortSurvey => {
      const given = ports[`${node.node}:${port.name}`];
      if (given === undefined) return port;
      const entries = Object.entries({ ...port.facts, ...given });
      const facts = Object.fromEntries(entries.filter(([, value]) => value !== undefined));
      return { ...port, facts: facts as PortReadFacts };
    }),
  }));
}

/** A survey in which a node gave no answer. */
export function silent(name: string): (survey: Survey) => Survey {
  const trouble = { kind: 'no-answer', seen: 'no answer within 10 s', remedy: 'look' } as const;
  return onNodes((node) =>
    node.node === name
      ? { ...node, readings: node.readings.map((each) => ({ ...each, trouble })), ports: [] }
      : node,
  );
}

export function onNodes(change: (node: NodeSurvey) => NodeSurvey): (survey: Survey) => Survey {
  return (survey) => ({ ...survey, nodes: survey.nodes.map(change) });
}

/** Steps with what became of them, those that are done left out. */
export function open({ steps }: Confirmation): string[] {
  return steps
    .filter(({ verdict }) => verdict !== 'done')
    .map(({ on, verdict, is }) => `${on} ${verdict}${is === undefined ? '' : ` ${String(is)}`}`);
}
