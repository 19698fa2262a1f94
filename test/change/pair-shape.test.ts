import { describe, expect, it } from 'vitest';
import { orderModel } from '../../src/change/order-model.ts';
import { runningState } from '../../src/change/running-state.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { planned } from './two-switches.ts';

interface Sizes {
  readonly plot: number;
  readonly gateIn: number;
  readonly gateOut: number;
  readonly hillIn?: number;
  readonly hillOut?: number;
  readonly attic: number;
}

/** plot-1 - quay-sw - gate - hill - attic: two routers in a row, everything else large enough. */
function routed({ plot, gateIn, gateOut, hillIn = 9000, hillOut = 9000, attic }: Sizes) {
  const intent = makeIntent({
    nodes: {
      'plot-1': {},
      'quay-sw': { mtuCounts: { port: 'payload' }, believe: ['mtu'] },
      gate: { routes: true },
      hill: { routes: true },
      attic: {},
    },
    segments: { storage: {}, between: {}, upstairs: {} },
    links: {
      'plot-1:en7 - quay-sw:xg1': { untagged: 'storage' },
      'quay-sw:xg2 - gate:em0': { untagged: 'storage' },
      'gate:em1 - hill:em0': { untagged: 'between' },
      'hill:em1 - attic:eth0': { untagged: 'upstairs' },
    },
    paths: {
      archive: { from: ['plot-1'], to: ['attic'], over: ['storage', 'between', 'upstairs'] },
    },
  });
  const at = (mtuBytes: number, net: number, host: number) => ({
    mtuBytes,
    addresses: [`198.18.${net}.${host}/24`],
  });
  const survey = makeSurvey({
    'plot-1': { ports: { en7: at(plot, 20, 1) } },
    'quay-sw': { ports: { xg1: { mtuBytes: 9216 }, xg2: { mtuBytes: 9216 } } },
    gate: { ports: { em0: at(gateIn, 20, 254), em1: at(gateOut, 25, 1) } },
    hill: { ports: { em0: at(hillIn, 25, 2), em1: at(hillOut, 30, 254) } },
    attic: { ports: { eth0: at(attic, 30, 1) } },
  });
  return { intent, survey };
}

const large = { plot: 9000, gateIn: 9000, gateOut: 9000, attic: 9000 };

// RFC 1191 section 4: a router answers what it cannot forward over its next link. What is longer
// than its own port by which it comes in, it never gets to forward (test/lab/change.test.ts).
describe('a path over routers', () => {
  it.each<readonly [name: string, sizes: Sizes, pathsCut: number]>([
    ['large all the way', large, 0],
    ['of which the port towards an end is small', { ...large, gateIn: 1500 }, 1],
    ['of which the port towards the other end is small', { ...large, hillOut: 1500 }, 1],
    ['between which it is small', { ...large, gateOut: 1500, hillIn: 1500 }, 0],
    ['of which one and an end are small', { ...large, hillOut: 1500, attic: 1500 }, 0],
  ])('%s', (_, sizes, pathsCut) => {
    const { intent, survey } = routed(sizes);
    const plan = planned('ports: { "plot-1:en7": { mtu: 4000 } }', intent, survey);
    const state = runningState(orderModel(plan.intent, survey, plan), []);
    expect(state.cost().pathsCut).toBe(pathsCut);
  });

  it('is no longer cut once its ends send what the small port takes', () => {
    const { intent, survey } = routed({ ...large, gateIn: 1500 });
    const plan = planned('ports: { "plot-1:en7": { mtu: 1500 } }', intent, survey);
    const model = orderModel(plan.intent, survey, plan);
    const [before, after] = [runningState(model, []), runningState(model, [0])];
    expect([before.cost().pathsCut, after.cost().pathsCut]).toEqual([1, 0]);
  });
});
