import { describe, expect, it } from 'vitest';
import { stateAfter } from '../../src/change/foretell.ts';
import { rehearse } from '../../src/change/rehearse.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent, RunPiece } from '../../src/intent/types.ts';
import { place } from '../site/builders.ts';
import { planned, twoSwitches } from './two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const from = 'plot-1:en7 - quay-sw:xg2';
const moved = `links: { "${from}": { move: "plot-1:en7 - quay-sw:xg9" } }`;

/** quay-sw with a free port of its own, whose speed nobody reads since it has no link. */
function withFreePort({ survey, ...rest }: ReturnType<typeof twoSwitches>) {
  const down = { reason: 'down' as const, words: 'ifOperStatus is not up' };
  const nodes = survey.nodes.map((node) =>
    node.node === 'quay-sw'
      ? {
          ...node,
          portGaps: { ...node.portGaps, speedMbps: down },
          ports: [...node.ports, { name: 'xg9', facts: { mtuBytes: 9216, operUp: false } }],
        }
      : node,
  );
  return { ...rest, survey: { ...survey, nodes } };
}

/** Category 5e is not specified for 10GBASE-T (IEEE 802.3, clause 55.7; from memory). */
function withOldCord(intent: Intent, id: string): Intent {
  const piece: RunPiece = {
    ...{ kind: 'cord', category: 'cat5e', lengthMetres: 5, fieldTerminated: false },
    ...{ text: 'cord cat5e 5 m', place },
  };
  const links = intent.links.map((link) => (link.id === id ? { ...link, run: [piece] } : link));
  return { ...intent, links };
}

const site = () => withFreePort(twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 }));

function run(text: string, intent: Intent, survey: Survey) {
  return rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
}

describe('a cord whose run does not reach the declared speed', () => {
  it('is moved all the same, since that is so where it lies now', () => {
    const { intent, survey } = site();
    const told = run(moved, withOldCord(intent, from), survey);
    expect(told.order?.steps.map(({ id }) => id)).toEqual(['link plot-1:en7']);
    expect(told.remarks.filter(({ kind }) => kind === 'impossible')).toEqual([]);
    const [said] = told.remarks.filter(({ kind }) => kind === 'unknown');
    expect(said?.on).toMatch(/^plot-1:en7$|^quay-sw:xg9$/);
    expect(said?.what).toMatch(
      /^cannot run at 10000 Mb\/s: its run does not reach that \(cord cat5e 5 m: .*\), as before the change; what it runs at is known only once the cord is in its new place$/,
    );
  });

  it('is not moved to where the declared speed is newly out of reach', () => {
    const { intent, survey } = site();
    const asked = planned(moved, intent, survey);
    const text = `links: { "${from}": { move: "plot-1:en7 - quay-sw:xg9", speed: 10G } }`;
    expect(asked.steps).toHaveLength(1);
    const nodes = survey.nodes.map((node) => ({
      ...node,
      ports: node.ports.map((port) =>
        port.name === 'xg9'
          ? { ...port, facts: { ...port.facts, supportedModes: ['1000baseT/Full'] } }
          : port,
      ),
    }));
    const told = run(text, intent, { ...survey, nodes });
    expect(told.order?.steps.filter(({ cord }) => cord)).toEqual([]);
    expect(told.remarks.find(({ on }) => on === 'quay-sw:xg9')).toMatchObject({
      kind: 'impossible',
      what: 'cannot run at 10000 Mb/s: it can do 1000 Mb/s',
    });
  });
});

describe('a port that had no link', () => {
  it('gives that as no reason for what is not known once a cord is in it', () => {
    const { intent, survey } = site();
    const plan = planned(moved, intent, survey);
    const after = stateAfter(plan, survey, plan.steps);
    const quay = after.survey.nodes.find(({ node }) => node === 'quay-sw');
    const port = quay?.ports.find(({ name }) => name === 'xg9');
    expect(port?.gaps?.['speedMbps']?.words).toBe('known only once the cord is in its new place');
  });
});
