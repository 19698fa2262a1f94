import { describe, expect, it } from 'vitest';
import { auditorUnknown } from '../../src/change/auditor-unknown.ts';
import { disturbances, type StepDisturbance } from '../../src/change/disturbed.ts';
import { reachedFrom } from '../../src/change/taken-down.ts';
import { waysInLost } from '../../src/change/way-in-lost.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';
import { onNodes } from './confirm-scene.ts';
import { planned, twoSwitches } from './two-switches.ts';

const site = () => twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });

/** hopgauge runs on plot-1. */
function fromPlot(intent: Intent): Intent {
  const nodes = intent.nodes.map((node) =>
    node.name === 'plot-1'
      ? { ...node, access: [{ via: 'local' as const, name: 'local' as const }] }
      : node,
  );
  return { ...intent, nodes };
}

function stops(text: string, given: Partial<ReturnType<typeof site>> = {}): StepDisturbance[] {
  const { intent, survey } = { ...site(), ...given };
  const plan = planned(text, intent, survey);
  return [...(disturbances(plan, survey, plan.steps) ?? [])];
}

const quiet = { cut: [], detoured: [], sessions: 0, sessionsOf: [], sessionsUnread: [] };

describe('what stops while a step is taken', () => {
  it('is every path over a port without another way', () => {
    const [xg2] = stops('ports: { "quay-sw:xg2": { mtu: 9000 } }');
    expect(xg2).toEqual({ ...quiet, cut: ['plotting'] });
  });

  it('is no path where the aggregate has another member', () => {
    const [xg3] = stops('ports: { "loft-sw:xg3": { mtu: 9000 } }');
    expect(xg3).toEqual({ ...quiet, detoured: ['copies', 'plotting'] });
  });

  it('is every member of a bond that is set', () => {
    const [bond] = stops('ports: { "vault:bond0": { mtu: 4000 } }');
    expect(bond).toEqual({ ...quiet, cut: ['copies', 'plotting'] });
  });

  it('is nothing where the node takes the value live, or has no hardware of its own', () => {
    const live = 'ports: { "quay-sw:xg2": { mtu: 9000 } }\nnodes: { quay-sw: { mtuChange: live } }';
    expect(stops(live)).toEqual([quiet]);
    expect(stops('ports: { "store:br20": { mtu: 4000 } }')).toEqual([quiet]);
  });

  it('is all that runs through a node that restarts or is replaced', () => {
    const reload =
      'ports: { "loft-sw:xg5": { mtu: 9000 } }\nnodes: { loft-sw: { mtuChange: reload } }';
    const replaced = 'nodes: { loft-sw: { replace: { by: the spare, mtu: 9216 } } }';
    for (const text of [reload, replaced])
      expect(stops(text)).toEqual([{ ...quiet, cut: ['copies', 'plotting'] }]);
  });

  it('is what the cord carried that is moved, in its old place', () => {
    const text = 'links: { "loft-sw:xg5 - store:eno1": { remove: true } }';
    expect(() => planned(text, site().intent, site().survey)).not.toThrow();
    expect(stops(text)).toEqual([{ ...quiet, cut: ['copies'] }]);
  });

  it('is every link of a node that is set as a whole', () => {
    const [whole] = stops('nodes: { quay-sw: { mtu: 9000 } }', site());
    const [port] = stops('ports: { "quay-sw:xg7": { mtu: 9000 } }', site());
    expect([whole?.cut, port?.cut]).toEqual([['plotting'], []]);
  });

  it('counts live sessions between the ends, and says of whom none were read', () => {
    const { survey } = site();
    const session = { local: '198.18.20.1', segmentBytes: 8948, timestamps: true };
    const withSessions = onNodes((node) =>
      node.node === 'plot-1'
        ? {
            ...node,
            sessions: [
              { ...session, remote: '198.18.20.2', count: 3 },
              { ...session, remote: '198.18.99.1', count: 40 },
            ],
          }
        : node,
    );
    const [counted] = stops('ports: { "quay-sw:xg2": { mtu: 9000 } }', {
      survey: withSessions(survey),
    });
    expect(counted).toMatchObject({ sessions: 3, sessionsOf: ['plot-1', 'vault'] });
    const dark = onNodes((node) => ({
      ...node,
      gaps: { ...node.gaps, sessions: { reason: 'unsupported' as const, words: 'not printed' } },
    }));
    const [unread] = stops('ports: { "quay-sw:xg2": { mtu: 9000 } }', { survey: dark(survey) });
    expect(unread).toMatchObject({ sessions: 0, sessionsUnread: ['plot-1', 'vault'] });
  });
});

describe('the way of the auditor', () => {
  it('to whatever lies behind a port that goes down is cut meanwhile', () => {
    const { intent } = site();
    const at = (text: string) => stops(text, { intent: fromPlot(intent) })[0]?.outOfReach;
    expect(at('ports: { "quay-sw:xg8": { mtu: 9000 } }')).toEqual(['loft-sw', 'store', 'vault']);
    expect(at('ports: { "loft-sw:xg3": { mtu: 9000 } }')).toEqual([]);
    expect(at('ports: { "quay-sw:xg2": { mtu: 9000 } }')).toHaveLength(6);
  });

  it('is not known where no node is read locally, and that is said once', () => {
    const { intent, survey } = site();
    const { steps } = planned('nodes: { quay-sw: { mtu: 9000 } }', intent, survey);
    expect(auditorUnknown(intent, steps).map(({ on }) => on)).toEqual(['quay-sw']);
    expect(auditorUnknown(fromPlot(intent), steps)).toEqual([]);
    const hosts = planned('ports: { "plot-1:en7": { mtu: 4000 } }', intent, survey).steps;
    expect(auditorUnknown(intent, hosts)).toEqual([]);
  });

  it('is reached over links in any order', () => {
    const { links } = site().intent;
    expect([...reachedFrom('vault', links)].sort()).toEqual(
      [...reachedFrom('plot-1', links)].sort(),
    );
    expect([...reachedFrom('vault', [])]).toEqual(['vault']);
  });
});

describe('a way in that is lost', () => {
  const told = (text: string, survey: Survey = site().survey) => {
    const { intent } = site();
    const plan = planned(text, intent, survey);
    return waysInLost(plan, survey, plan.steps).map(
      ({ kind, on, what }) => `${kind} ${on} ${what}`,
    );
  };
  const forced = onNodes((node) => ({
    ...node,
    ports: node.ports.map((port) => ({
      ...port,
      facts: { ...port.facts, autoNegotiation: false },
    })),
  }));

  it('for good is impossible', () => {
    expect(told('links: { "plot-1:en7 - quay-sw:xg2": { remove: true } }')).toEqual([
      'impossible plot-1 cannot be reached once the change is made: from step 1 on plot-1:en7, by which plot-1 is read, has no link',
    ]);
    expect(told('ports: { "plot-1:en7": { speed: 1G } }', forced(site().survey))).toEqual([
      expect.stringMatching(/^impossible plot-1 cannot be reached once the change is made/),
    ]);
  });

  it('between two steps is a caution, which says when it comes back', () => {
    const both = 'links: { "plot-1:en7 - quay-sw:xg2": { speed: 1G } }';
    expect(told(both, forced(site().survey))).toEqual([
      'caution plot-1 cannot be reached between step 1 and step 2: plot-1:en7, by which plot-1 is read, has no link',
    ]);
  });

  it('is none where a member of the bond is left, or only an MTU moves', () => {
    expect(told('links: { "loft-sw:xg3 - vault:eth4": { remove: true } }')).toEqual([]);
    expect(told('ports: { "plot-1:en7": { mtu: 4000 } }')).toEqual([]);
  });
});
