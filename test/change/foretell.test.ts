import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PathState, pathStates, stateAfter } from '../../src/change/foretell.ts';
import { foretellPaths } from '../../src/change/foretell-paths.ts';
import type { PlannedChange } from '../../src/change/plan-change.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { randomChange, someCords, someOdd } from './random-change.ts';
import { planned, twoSwitches } from './two-switches.ts';

/** Every state as the whole site tells it that is joined anew. Slow and obvious. */
function everyState(plan: PlannedChange, survey: Survey): PathState[][] {
  return Array.from({ length: plan.steps.length + 1 }, (_, done) => {
    const state = stateAfter(plan, survey, plan.steps.slice(0, done));
    return pathStates(buildSite(state.intent, state.survey, { strict: false }));
  });
}

/** What is foretold, taken together from its changes. */
function foretold(plan: PlannedChange, survey: Survey): PathState[][] {
  const paths = foretellPaths(plan, survey, plan.steps);
  if (paths === undefined) throw new Error('nothing is foretold');
  const states = [[...paths.start]];
  for (const changed of paths.after) {
    const before = states.at(-1) ?? [];
    states.push(before.map((path) => changed.find(({ id }) => id === path.id) ?? path));
  }
  return states;
}

/** plot-1 - shed-sw, which nobody reads - quay-sw - gate - attic, which nobody reads either. */
function unreadSite(believed: boolean) {
  const intent = makeIntent({
    nodes: {
      'plot-1': {},
      'shed-sw': { unread: 'switch', frameBytes: 1522 },
      'quay-sw': { mtuCounts: { port: 'payload' }, believe: believed ? ['mtu'] : [] },
      gate: { routes: true },
      attic: { unread: 'host', at: '198.18.30.1' },
    },
    segments: { storage: { mtuBytes: 9000 }, upstairs: { mtuBytes: 9000 } },
    links: {
      'plot-1:en7 - shed-sw:p1': { untagged: 'storage' },
      'shed-sw:p2 - quay-sw:xg1': { untagged: 'storage' },
      'quay-sw:xg2 - gate:em0': { untagged: 'storage' },
      'gate:em1 - attic:eth0': { untagged: 'upstairs' },
    },
    paths: {
      archive: { from: ['plot-1'], to: ['attic'], over: ['storage', 'upstairs'] },
      near: { from: ['plot-1'], to: ['gate'], over: ['storage'] },
      none: { from: ['plot-1'], to: ['attic'], over: ['storage'] },
    },
  });
  const small = { mtuBytes: 1500 };
  const session = { local: '198.18.30.254', remote: '198.18.30.1', segmentBytes: 1448 };
  const survey = makeSurvey({
    'plot-1': { ports: { en7: { ...small, addresses: ['198.18.20.1/24'] } } },
    'quay-sw': { ports: { xg1: small, xg2: small } },
    gate: {
      ports: {
        em0: { ...small, addresses: ['198.18.20.254/24'] },
        em1: { mtuBytes: 9000, addresses: ['198.18.30.254/24'] },
      },
      sessions: [{ ...session, advertisedBytes: 8948, pathMtuBytes: 9000 }],
    },
  });
  const text = `nodes: { shed-sw: { mtu: 9022 } }
ports:
  plot-1:en7: { mtu: 9000 }
  quay-sw:xg1: { mtu: 9000 }
  quay-sw:xg2: { mtu: 9000 }
  gate:em0: { mtu: 9000 }
`;
  return { survey, plan: planned(text, intent, survey) };
}

describe('what is foretold of every path', () => {
  it('is what the whole site tells that is joined anew after each step', () => {
    fc.assert(
      fc.property(
        randomChange(8, fc.oneof(fc.constant([]), someCords), someOdd),
        ({ survey, planned: plan }) => {
          expect(foretold(plan, survey)).toEqual(everyState(plan, survey));
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);

  it.each([true, false])('is that with nodes that nobody reads, and doubt: %s', (believed) => {
    const { plan, survey } = unreadSite(believed);
    const states = everyState(plan, survey);
    expect(plan.steps).toHaveLength(5);
    expect(foretold(plan, survey)).toEqual(states);
    const archive = states.map((paths) => paths.find(({ id }) => id === 'archive'));
    // A frame of 1522 leaves 1504 to a packet without a tag (IEEE 802.3 clause 3). A switch that
    // says 1500 of all its ports tells nothing while it is doubted.
    const [doubted, none] = [believed ? 1500 : 1504, undefined];
    expect(archive.map((path) => path?.atMostBytes)).toEqual([
      ...[1500, 1500, doubted],
      ...[1500, 1504, 9000],
    ]);
    expect(archive.map((path) => path?.atLeastBytes)).toEqual([
      ...(believed ? [1500, 1500, 1500] : [none, none, none]),
      ...[1500, 1504, 9000],
    ]);
    expect(states[0]?.find(({ id }) => id === 'none')?.joined).toBe(false);
  });

  it('is that with bonds, VLAN interfaces and bridges', () => {
    const { intent, survey } = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });
    const plan = planned('segments: { storage: { mtu: 9000 } }', intent, survey);
    expect(foretold(plan, survey)).toEqual(everyState(plan, survey));
  });

  it('is that where a device is replaced and a cord is taken away', () => {
    const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
    const text = `nodes: { loft-sw: { replace: { by: "the spare", mtu: 1518 } } }
links: { "loft-sw:xg3 - vault:eth4": { remove: true } }`;
    const plan = planned(text, intent, survey);
    expect(plan.steps).toHaveLength(2);
    expect(foretold(plan, survey)).toEqual(everyState(plan, survey));
  });

  it('is nothing where there are too many steps', () => {
    const { intent, survey } = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });
    const plan = planned('segments: { storage: { mtu: 9000 } }', intent, survey);
    const many = Array.from({ length: 65 }, () => plan.steps[0]).flatMap((step) => step ?? []);
    expect(foretellPaths(plan, survey, many)).toBeUndefined();
  });
});
