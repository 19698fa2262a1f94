import { describe, expect, it } from 'vitest';
import { planChange } from '../../src/change/plan-change.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import { askedByIntent } from '../../src/change/second-intent.ts';
import type { Intent } from '../../src/intent/types.ts';
import { rehearsalStatus } from '../../src/report/rehearsal-status.ts';
import { rehearsalText } from '../../src/report/rehearsal-text.ts';
import { twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';

/** Two switches of which every port is in VLAN 20 as declared: tagged on the trunk, else untagged. */
function site() {
  const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
  const tagged = { untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [20] };
  const untagged = { untaggedVlan: 20, untaggedVlans: [20], taggedVlans: [] };
  const trunks = ['quay-sw:xg8', 'loft-sw:xg1', 'loft-sw:xg5'];
  const nodes = survey.nodes.map((node) =>
    node.node.endsWith('-sw')
      ? {
          ...node,
          ports: node.ports.map((port) => ({
            ...port,
            facts: {
              ...port.facts,
              ...(trunks.includes(`${node.node}:${port.name}`) ? tagged : untagged),
            },
          })),
        }
      : node,
  );
  return { intent, survey: { ...survey, nodes } };
}

function inVlan(intent: Intent, vlan: number): Intent {
  return { ...intent, segments: intent.segments.map((segment) => ({ ...segment, vlan })) };
}

function told(after: (intent: Intent) => Intent) {
  const { intent, survey } = site();
  const made = planChange(intent, survey, askedByIntent(intent, after(intent)));
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return rehearse({ intent, survey, policies: [], now }, made.value);
}

describe('a segment that moves to another VLAN', () => {
  const moved = told((intent) => inVlan(intent, 30));

  it('names every port that lacks it, since no step sets a VLAN', () => {
    const forgotten = moved.remarks.filter(({ kind }) => kind === 'forgotten');
    expect(forgotten.map(({ on }) => on).toSorted()).toEqual([
      ...['loft-sw:xg1', 'loft-sw:xg3', 'loft-sw:xg4', 'loft-sw:xg5'],
      ...['quay-sw:xg2', 'quay-sw:xg6', 'quay-sw:xg7', 'quay-sw:xg8', 'store:eno1'],
    ]);
    expect(forgotten.find(({ on }) => on === 'quay-sw:xg2')).toMatchObject({
      what: 'lacks the membership of VLAN 30 that is declared from now on: hopgauge has no step that sets VLANs',
      remedy: 'set VLAN 30 there by hand, in this change',
    });
    expect(forgotten.find(({ on }) => on === 'store:eno1')?.what).toContain(
      'lacks an interface of VLAN 30',
    );
    expect(rehearsalStatus(moved, 'warning')).toBe(1);
    expect(rehearsalText(moved, { width: 100, colour: false })).not.toContain(
      'nothing is left to set',
    );
  });

  it('calls no path apart before the first step that is joined today, and says what it leaves open', () => {
    expect(moved.start.pathsApart).toBe(0);
    expect(moved.remarks.find(({ on }) => on === 'storage')).toMatchObject({
      kind: 'unknown',
      what: expect.stringMatching(
        /^is moved from VLAN 20 to VLAN 30: .* no state here counts that$/,
      ),
    });
  });

  it('and a cord that is taken away still parts what it joined', () => {
    const { order, start } = told((intent) => {
      const there = inVlan(intent, 30);
      const links = there.links.filter(({ id }) => id !== 'quay-sw:xg8 - loft-sw:xg1');
      return { ...there, links };
    });
    expect(start.pathsApart).toBe(0);
    expect(order?.costs.at(-1)?.pathsApart).toBeGreaterThan(0);
  });
});

describe('a change that moves no VLAN', () => {
  it('has no such remark', () => {
    const { remarks } = told((intent) => ({
      ...intent,
      segments: intent.segments.map((segment) => ({ ...segment, mtuBytes: 4000 })),
    }));
    expect(remarks.filter(({ what }) => what.includes('VLAN '))).toEqual([]);
  });
});
