import { describe, expect, it } from 'vitest';
import { cordOutcome, deviceOutcome } from '../../src/change/cabling-outcomes.ts';
import { setUp } from '../../src/change/confirm-stage.ts';
import type { NodeSurvey, Survey } from '../../src/facts/survey.ts';
import { says } from '../site/harbour-site.ts';
import { onNodes, scene, withPorts } from './confirm-scene.ts';
import { planned, twoSwitches } from './two-switches.ts';

const uplink = 'quay-sw:xg8 - loft-sw:xg1';
const removal = `links: { "${uplink}": { remove: true } }`;
const outcome = (made: ReturnType<typeof scene>) =>
  made.steps.map(({ verdict, why }) => [verdict, why]);

describe('a cord that is taken away', () => {
  const site = { text: removal };

  it.each([
    ['done', false, ['done', undefined]],
    ['not-done', true, ['not-done', 'quay-sw:xg8 still has a link']],
    ['cannot-tell', undefined, ['cannot-tell', 'whether quay-sw:xg8 has a link was not read']],
  ] as const)('is %s where its port has operUp %s', (_, operUp, expected) => {
    const made = scene({ ...site, after: withPorts({ 'quay-sw:xg8': { operUp } }) });
    expect(outcome(made)).toEqual([expected]);
    const [step] = made.steps;
    if (step?.verdict === 'cannot-tell')
      expect(step.look).toBe('look whether a cord is in quay-sw:xg8');
  });
});

describe('a cord that is moved', () => {
  const sketch = { hosts: 9000, switches: 9216, declared: 9000 };
  const text = `links: { "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg9" } }`;
  const withSpare = onNodes((node) =>
    node.node === 'quay-sw'
      ? { ...node, ports: [...node.ports, { name: 'xg9', facts: { mtuBytes: 9216 } }] }
      : node,
  );
  const hears = (port: string): ((survey: Survey) => Survey) =>
    onNodes((node) =>
      node.node === 'plot-1' ? { ...node, neighbours: [says('en7', 'quay-sw', port)] } : node,
    );
  const seen = (heard: string | undefined, upTo: number) => {
    const { intent, survey } = twoSwitches(sketch);
    const kept = withSpare(survey);
    const plan = planned(text, intent, kept);
    const now = heard === undefined ? kept : hears(heard)(kept);
    const bench = setUp({
      ...{ before: intent, planned: plan, order: plan.steps, kept, survey: now },
      ...{ policies: [], now: '2026-11-25T03:00:00.000Z', upTo },
    });
    const [step] = plan.steps;
    if (step === undefined) throw new Error('one step');
    return cordOutcome(bench, step, upTo === 1);
  };

  it.each([
    ['its new neighbour', 'xg9', 1, { verdict: 'done' }],
    ['its old neighbour', 'xg2', 1, { verdict: 'not-done', why: 'quay-sw:xg2 is heard there' }],
    ['another one', 'xg7', 1, { verdict: 'other', why: 'quay-sw:xg7 is heard there' }],
    ['its old neighbour, before its turn', 'xg2', 0, { verdict: 'not-done' }],
    [
      'its new one, before its turn',
      'xg9',
      0,
      { verdict: 'done', why: 'quay-sw:xg9 is heard there' },
    ],
  ] as const)('is judged by %s', (_, heard, upTo, expected) => {
    expect(seen(heard, upTo)).toEqual(expected);
  });

  it('cannot be told where nobody says himself', () => {
    expect(seen(undefined, 1).verdict).toBe('cannot-tell');
  });
});

describe('two cords that change places', () => {
  const sketch = { hosts: 9000, switches: 9216, declared: 9000 };
  const text = `links:
  "plot-1:en7 - quay-sw:xg2": { move: "plot-1:en7 - quay-sw:xg7" }
  "quay-sw:xg7 - gate:em0": { move: "quay-sw:xg2 - gate:em0" }`;
  /** Where the cords of gate and plot-1 are heard; undefined: it has no link. */
  const at = (gate: string | undefined, plot: string) =>
    onNodes((node) => {
      const port = node.node === 'gate' ? gate : node.node === 'plot-1' ? plot : undefined;
      const name = node.node === 'gate' ? 'em0' : 'en7';
      const isHost = node.node === 'gate' || node.node === 'plot-1';
      const ports = node.ports.map((each) =>
        isHost && each.name === name
          ? { ...each, facts: { ...each.facts, operUp: port !== undefined } }
          : each,
      );
      const neighbours = port === undefined ? [] : [says(name, 'quay-sw', port)];
      return isHost ? { ...node, ports, neighbours } : node;
    });
  const seen = (upTo: number, gate: string | undefined, plot: string) =>
    scene({ text, sketch, taken: 0, upTo, after: at(gate, plot) }).steps.map(
      ({ verdict }) => verdict,
    );

  it.each([
    ['all is done', 3, 'xg2', 'xg7', ['done', 'done', 'done']],
    ['nothing is done', 3, 'xg7', 'xg2', ['not-done', 'not-done', 'not-done']],
    ['nothing is done, before it is begun', 0, 'xg7', 'xg2', ['not-done', 'not-done', 'not-done']],
    ['the first is out', 1, undefined, 'xg2', ['done', 'not-done', 'not-done']],
    ['the first was not taken out', 1, 'xg7', 'xg2', ['not-done', 'not-done', 'not-done']],
    ['the other is in its place', 2, undefined, 'xg7', ['done', 'done', 'not-done']],
    ['the first was left out', 3, undefined, 'xg7', ['done', 'done', 'not-done']],
    ['the first came to a third place', 3, 'xg8', 'xg7', ['done', 'done', 'other']],
  ] as const)('are judged step by step where %s', (_, upTo, gate, plot, expected) => {
    expect(seen(upTo, gate, plot)).toEqual(expected);
  });
});

describe('a path over a cord that is moved', () => {
  const sketch = { hosts: 9000, switches: 9216, declared: 9000 };
  const text = 'links: { "loft-sw:xg5 - store:eno1": { move: "loft-sw:xg9 - store:eno1" } }';
  const before = onNodes((node) =>
    node.node === 'loft-sw'
      ? { ...node, ports: [...node.ports, { name: 'xg9', facts: { mtuBytes: 1500 } }] }
      : node,
  );
  const hears = (port: string) =>
    onNodes((node) =>
      node.node === 'store' ? { ...node, neighbours: [says('eno1', 'loft-sw', port)] } : node,
    );
  const seen = (taken: number, after: (survey: Survey) => Survey) => {
    const told = scene({ text, sketch, before, taken, after });
    return told.paths
      .filter(({ id }) => id === 'copies')
      .map(({ verdict, found }) => [verdict, found.joined, found.atMostBytes])[0];
  };

  it('passes what its old place does while the cord is there, and that is no success', () => {
    expect(seen(0, hears('xg5'))).toEqual(['more', true, 9000]);
  });

  // Of 1500 bytes that count header and FCS 1482 are left (IEEE 802.3, 3.1.1).
  it('passes what its new place does once it is there', () => {
    expect(seen(1, hears('xg9'))).toEqual(['as-foretold', true, 1482]);
  });

  it('is not joined by a cord in a third place', () => {
    expect(seen(1, hears('xg3'))?.slice(0, 2)).toEqual(['less', false]);
  });

  it('cannot be told where nobody says himself', () => {
    expect(seen(1, (survey) => survey)?.[0]).toBe('cannot-tell');
  });
});

describe('a replaced device', () => {
  const text = 'nodes: { quay-sw: { replace: { by: "the spare of the shelf", mtu: 9216 } } }';
  const withFacts = (facts: NodeSurvey['facts']): ((survey: Survey) => Survey) =>
    onNodes((node) => (node.node === 'quay-sw' ? { ...node, facts } : node));
  const seen = (was: NodeSurvey['facts'], is: NodeSurvey['facts']) => {
    const { intent, survey } = twoSwitches({ hosts: 9000, switches: 9216, declared: 9000 });
    const kept = withFacts(was)(survey);
    const plan = planned(text, intent, kept);
    const bench = setUp({
      ...{ before: intent, planned: plan, order: plan.steps, kept, survey: withFacts(is)(survey) },
      ...{ policies: [], now: '2026-11-25T03:00:00.000Z', upTo: 1 },
    });
    const [step] = plan.steps;
    if (step === undefined) throw new Error('one step');
    return deviceOutcome(bench, step).verdict;
  };

  // RFC 3411, section 5: an engine's identifier is its own; sysObjectID (RFC 3418) is that of a kind.
  it.each([
    ['another engine', { engineId: '80000001' }, { engineId: '80000002' }, 'done'],
    ['the same engine', { engineId: '80000001' }, { engineId: '80000001' }, 'not-done'],
    ['another kind', { sysObjectId: '1.3.6.1.4.1.1' }, { sysObjectId: '1.3.6.1.4.1.2' }, 'done'],
    [
      'the same kind',
      { sysObjectId: '1.3.6.1.4.1.1' },
      { sysObjectId: '1.3.6.1.4.1.1' },
      'cannot-tell',
    ],
    ['nothing before', {}, { engineId: '80000002' }, 'cannot-tell'],
    ['nothing now', { engineId: '80000001' }, {}, 'cannot-tell'],
  ] as const)('with %s is %s', (_, was, is, verdict) => {
    expect(seen(was, is)).toBe(verdict);
  });

  it('is no news, whatever it tells of itself', () => {
    const before = withFacts({ engineId: '80000001', osVersion: '1.0' });
    const after = withFacts({ engineId: '80000002', osVersion: '2.0' });
    const made = scene({ text, before, after });
    expect(made.steps.map(({ verdict }) => verdict)).toEqual(['done']);
    expect(made.moved).toEqual([]);
    // The same of a device that was not replaced is news.
    const other = scene({ text: removal, before, after });
    expect(other.moved.map((change) => change.kind)).toContain('fact');
  });

  it('that cannot be told says what to look at', () => {
    const [step] = scene({ text }).steps;
    expect(step).toMatchObject({
      verdict: 'cannot-tell',
      look: 'look at quay-sw itself: it has to be the spare of the shelf',
    });
  });
});
