import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyStep, applySteps, applyToIntent } from '../../src/change/apply-steps.ts';
import { greedyOrder } from '../../src/change/greedy-order.ts';
import { orderModel } from '../../src/change/order-model.ts';
import { orderSteps } from '../../src/change/order-steps.ts';
import { runningState } from '../../src/change/running-state.ts';
import { compareCosts, weighCosts } from '../../src/change/state-cost.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { costOfSite, everyOrder } from './every-order.ts';
import { randomChange, someCords, someOdd } from './random-change.ts';

describe('an order of steps', () => {
  it('is never beaten by any other, as far as all orders can be tried', () => {
    fc.assert(
      fc.property(randomChange(5), ({ survey, planned }) => {
        const { intent, steps } = planned;
        const order = orderSteps(orderModel(intent, survey, planned));
        const best = everyOrder(intent, survey, steps);
        expect(order === undefined).toBe(best === undefined);
        if (order === undefined) return;
        expect(order.exact).toBe(true);
        expect(weighCosts(order.costs)).toEqual(best);
        expect(order.bound).toEqual(best?.worst);
      }),
      { numRuns: 120 },
    );
  }, 60_000);

  it('is never beaten where cords are moved, by all orders that the ports allow', () => {
    fc.assert(
      fc.property(randomChange(5, someCords), ({ survey, planned }) => {
        const { intent, steps } = planned;
        const order = orderSteps(orderModel(intent, survey, planned));
        const best = everyOrder(intent, survey, steps);
        expect(order === undefined).toBe(best === undefined);
        if (order !== undefined) expect(weighCosts(order.costs)).toEqual(best);
      }),
      { numRuns: 150 },
    );
  }, 60_000);

  it('is never beaten where a step takes a link down, or a port lacks the VLAN', () => {
    fc.assert(
      fc.property(
        randomChange(4, fc.oneof(fc.constant([]), someCords), someOdd),
        ({ survey, planned }) => {
          const { intent, steps } = planned;
          const order = orderSteps(orderModel(intent, survey, planned));
          const best = everyOrder(intent, survey, steps);
          expect(order === undefined).toBe(best === undefined);
          if (order !== undefined) expect(weighCosts(order.costs)).toEqual(best);
        },
      ),
      { numRuns: 120 },
    );
  }, 60_000);

  it('is never beaten with eight steps', () => {
    fc.assert(
      fc.property(
        randomChange(8).filter(({ planned }) => planned.steps.length === 8),
        ({ survey, planned }) => {
          const order = orderSteps(orderModel(planned.intent, survey, planned));
          const best = everyOrder(planned.intent, survey, planned.steps);
          expect(order && weighCosts(order.costs)).toEqual(best);
        },
      ),
      { numRuns: 4 },
    );
  }, 60_000);

  it('found step by step tells its states truly, and keeps to its bound', () => {
    fc.assert(
      fc.property(
        randomChange(8, fc.oneof(fc.constant([]), someCords), someOdd),
        ({ survey, planned }) => {
          const { intent, steps } = planned;
          const model = orderModel(intent, survey, planned);
          const [order, exact] = [greedyOrder(model), orderSteps(model)];
          expect(order === undefined).toBe(exact === undefined);
          if (order === undefined || exact === undefined) return;
          expect(order.steps.map(({ id }) => id).sort()).toEqual(steps.map(({ id }) => id).sort());
          let now = survey;
          order.steps.forEach((step, at) => {
            now = applyStep(intent, now, step);
            const declared = applyToIntent(intent, order.steps.slice(0, at + 1));
            const bounces = step.disturbs === 'nothing' ? 0 : 1;
            const cost = { ...costOfSite(buildSite(declared, now, { strict: false })), bounces };
            expect(order.costs[at]).toEqual(cost);
          });
          const worst = weighCosts(order.costs).worst;
          expect(compareCosts(order.bound, weighCosts(exact.costs).worst)).toBeLessThanOrEqual(0);
          expect(compareCosts(weighCosts(exact.costs).worst, worst)).toBeLessThanOrEqual(0);
        },
      ),
      { numRuns: 100 },
    );
  }, 60_000);

  it('comes to one end, whatever the order', () => {
    fc.assert(
      fc.property(randomChange(8), ({ survey, planned }) => {
        const { intent, steps } = planned;
        const order = orderSteps(orderModel(intent, survey, planned));
        const sizes = (each: typeof survey) =>
          each.nodes.map(({ ports }) => ports.map(({ name, facts }) => [name, facts.mtuBytes]));
        const one = order?.steps.reduce((now, step) => applyStep(intent, now, step), survey);
        if (one !== undefined) expect(sizes(one)).toEqual(sizes(applySteps(intent, survey, steps)));
      }),
      { numRuns: 200 },
    );
  });

  it('begins in the state in which the site is', () => {
    fc.assert(
      fc.property(randomChange(3), ({ survey, planned }) => {
        const site = buildSite(planned.intent, survey, { strict: false });
        const model = orderModel(planned.intent, survey, planned);
        expect(runningState(model, []).cost()).toEqual(costOfSite(site));
      }),
      { numRuns: 200 },
    );
  });
});
