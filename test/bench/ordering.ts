import { pathToFileURL } from 'node:url';
import { stateAfter } from '../../src/change/foretell.ts';
import { type OrderModel, orderModel } from '../../src/change/order-model.ts';
import { exactStepsMax, orderSteps } from '../../src/change/order-steps.ts';
import { type PlannedChange, planChange } from '../../src/change/plan-change.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import { compareCosts, weighCosts } from '../../src/change/state-cost.ts';
import type { StepOrder } from '../../src/change/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { costOfSite } from '../change/every-order.ts';
import { loadShipped } from '../judge/shipped.ts';
import { place } from '../site/builders.ts';
import { type LargeSite, makeLargeSite } from './large-site.ts';

const steps = 1000;
/** The most of which every state is foretold. */
const foretoldSteps = 64;
/** States that are joined anew: what each is said to cost is held to them, and they are timed. */
const statesJoined = 5;

/** How long one part took, beside joining the whole site anew for each state that it looks at. */
export interface OrderTime {
  readonly seconds: number;
  readonly states: number;
  /** States, times what joining the site once takes. */
  readonly joinedSeconds: number;
  readonly ratio: number;
}

export interface OrderingBench {
  readonly name: string;
  readonly nodes: number;
  readonly steps: number;
  readonly pairs: number;
  /** Reducing the site and ordering the steps; the bound that no order beats with it. */
  readonly order: OrderTime;
  /** The worst state of the order is as good as the bound. */
  readonly atBound: boolean;
  /** All states of `exactSteps` steps between switches, of pairs of which hardly two are alike. */
  readonly exactSteps: number;
  readonly exactShapes: number;
  readonly exact: OrderTime;
  /** Planning and rehearsing the change with all that is judged before and after it. */
  readonly wholeSeconds: number;
  /** That in joins of the whole site. */
  readonly wholeJoins: number;
  /** Rehearsing `foretoldSteps`, as many as each state is foretold of. */
  readonly foretoldSteps: number;
  readonly foretoldSeconds: number;
  readonly foretoldJoins: number;
  readonly goalSeconds: number;
  readonly goalRatio: number;
}

/**
 * Raises a segment of 500 nodes: 1000 steps, put into an order.
 *
 * @throws Error when a state of the order costs another sum than the joined site does
 */
export async function benchOrdering(): Promise<OrderingBench> {
  const site = makeLargeSite();
  const policies = await loadShipped('essential', 'jumbo');
  const { survey, intent } = site;
  const planned = plan(site);
  const { seconds, model, order } = ordered(site, planned);
  if (order.steps.length !== steps) throw new Error(`${order.steps.length} steps are in order`);
  const joinSeconds = joined(site, planned, order);
  const exactSite = makeLargeSite((host) => 1500 + host);
  const exactPlan = plan(exactSite, exactSite.uplinks.slice(-exactStepsMax));
  const exact = ordered(exactSite, exactPlan);
  if (!exact.order.exact) throw new Error('the smaller change was not ordered exactly');
  joined(exactSite, exactPlan, exact.order);
  const stage = { intent, survey, policies, now: survey.endedAt };
  const [wholeSeconds] = timed(() => rehearse(stage, plan(site)));
  const some = plan(site, [...site.uplinks, ...site.hostPorts].slice(0, foretoldSteps));
  const [foretoldSeconds, foretold] = timed(() => rehearse(stage, some));
  if (foretold.paths?.after.length !== foretoldSteps)
    throw new Error(`not each state of ${some.steps.length} steps is foretold`);
  const beside = (taken: number, states: number): OrderTime => ({
    seconds: taken,
    states,
    joinedSeconds: joinSeconds * states,
    ratio: (joinSeconds * states) / taken,
  });
  return {
    name: 'an order of steps',
    nodes: intent.nodes.length,
    steps,
    pairs: model.layingOf(() => false).shapes.reduce((sum, { count }) => sum + count, 0),
    order: beside(seconds, steps),
    atBound: compareCosts(weighCosts(order.costs).worst, order.bound) === 0,
    exactSteps: exactPlan.steps.length,
    exactShapes: exact.model.layingOf(() => false).shapes.length,
    exact: beside(exact.seconds, 2 ** exactPlan.steps.length),
    wholeSeconds,
    wholeJoins: wholeSeconds / joinSeconds,
    foretoldSteps,
    foretoldSeconds,
    foretoldJoins: foretoldSeconds / joinSeconds,
    goalSeconds: 10,
    goalRatio: 50,
  };
}

function plan({ intent, survey, asked }: LargeSite, ports: LargeSite['uplinks'] = []) {
  const settings = ports.map(([node, port]) => {
    return { node, port, setting: 'mtu' as const, to: 9000, place };
  });
  const made = planChange(intent, survey, { ...asked, settings });
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.value;
}

function ordered({ survey }: LargeSite, planned: PlannedChange) {
  const [seconds, found] = timed(() => {
    const model = orderModel(planned.intent, survey, planned);
    return [model, orderSteps(model)] as const;
  });
  const [model, order] = found;
  if (order === undefined) throw new Error('no order was found');
  return { seconds, model, order } satisfies {
    seconds: number;
    model: OrderModel;
    order: StepOrder;
  };
}

/** Seconds of joining the site in one state of an order, the mean of some that lie apart. */
function joined({ survey }: LargeSite, planned: PlannedChange, order: StepOrder): number {
  let sum = 0;
  for (let each = 1; each <= statesJoined; each += 1) {
    const done = Math.round((order.steps.length * each) / statesJoined);
    const [seconds, site] = timed(() => {
      const state = stateAfter(planned, survey, order.steps.slice(0, done));
      return buildSite(state.intent, state.survey, { strict: false });
    });
    sum += seconds;
    const told = { ...order.costs[done - 1], bounces: 0 };
    const found = costOfSite(site);
    if (JSON.stringify(told) !== JSON.stringify(found))
      throw new Error(`state ${done}: ${JSON.stringify(told)}, joined ${JSON.stringify(found)}`);
  }
  return sum / statesJoined;
}

function timed<T>(work: () => T): [seconds: number, result: T] {
  const startedMs = performance.now();
  const result = work();
  return [(performance.now() - startedMs) / 1000, result];
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchOrdering(), null, 2)}\n`);
}
