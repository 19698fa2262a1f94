import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brokenPairs } from '../../src/change/broken-pairs.ts';
import { orderModel } from '../../src/change/order-model.ts';
import { orderSteps } from '../../src/change/order-steps.ts';
import { runningState } from '../../src/change/running-state.ts';
import { randomChange, someCords } from './random-change.ts';
import { planned, twoSwitches } from './two-switches.ts';

describe('the pairs of ends that are broken in a state', () => {
  it('are as many as its cost counts, and three at most, in every order of every change', () => {
    fc.assert(
      fc.property(randomChange(5, someCords), ({ survey, planned: plan }) => {
        const model = orderModel(plan.intent, survey, plan);
        const order = orderSteps(model);
        if (order === undefined) return;
        const named = brokenPairs(model, order.steps);
        const costs = [runningState(model, []).cost(), ...order.costs];
        const states = named === undefined ? [] : [named.start, ...named.after];
        expect(states.map(({ apart, cut }) => [apart.length, cut.length])).toEqual(
          costs.map(({ pathsApart, pathsCut }) => [Math.min(3, pathsApart), Math.min(3, pathsCut)]),
        );
      }),
      { numRuns: 60 },
    );
  }, 60_000);

  it('are those of the declared paths, and of machines that no path names', () => {
    const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
    const text = 'links: { "quay-sw:xg8 - loft-sw:xg1": { remove: true } }';
    const named = (more: string) => {
      const plan = planned(`${text}\n${more}`, intent, survey);
      const model = orderModel(plan.intent, survey, plan);
      return brokenPairs(model, plan.steps)?.after.at(-1)?.apart;
    };
    expect(named('')).toEqual(['plotting']);
    expect(named('segments: { storage: { mtu: 9000 } }')).toEqual([
      'plotting',
      'tablet to vault in segment storage',
    ]);
  });
});
