import { describe, expect, it } from 'vitest';
import { confirm } from '../../src/change/confirm.ts';
import type { Confirmation } from '../../src/change/confirmation.ts';
import { planChange } from '../../src/change/plan-change.ts';
import { askedByIntent } from '../../src/change/second-intent.ts';
import { confirmHead } from '../../src/report/confirm-head.ts';
import { confirmStatus } from '../../src/report/confirm-status.ts';
import { loadShipped } from '../judge/shipped.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';
import { onNodes, open, raise, type Scene, scene, silent, withPorts } from './confirm-scene.ts';

const policies = await loadShipped('essential', 'jumbo');
const status = (confirmation: Confirmation) => confirmStatus(confirmation, 'warning');
const paths = ({ paths: all }: Confirmation) => all.map(({ id, verdict }) => `${id} ${verdict}`);
const bad = (confirmation: Confirmation) =>
  confirmation.findings.broken.map(({ rule, subject }) => `${rule} ${subject.id}`);

describe('a change that was made as rehearsed', () => {
  it('is confirmed: steps, paths, followers, rules, and nothing else moved', () => {
    const made = scene({ policies });
    expect(made.steps).toHaveLength(14);
    expect(open(made)).toEqual([]);
    expect(made.steps.every(({ expected, ahead }) => expected && !ahead)).toBe(true);
    expect(paths(made)).toEqual(['copies as-foretold', 'plotting as-foretold']);
    expect(made.followers).toEqual([]);
    expect(bad(made)).toEqual([]);
    expect(made.findings.notMended).toEqual([]);
    expect(made.findings.unknown).toEqual([]);
    expect({ ...made, moved: made.moved, errors: made.errors }).toMatchObject({
      moved: [],
      errors: [],
      bounces: [],
      unread: [],
      uncounted: [],
    });
    expect(confirmHead(made, 'warning').verdict).toBe(
      'confirmed: storage to 9000: 14 of 14 steps done, every path as foretold',
    );
    expect(status(made)).toBe(0);
  });

  it('keeps apart what breaks as the rehearsal foretold, and does not count it', () => {
    const { findings } = scene({ policies });
    expect(findings.brokenAsForetold.map(({ subject }) => subject.id)).toContain('tablet:wlan0');
  });

  it.each([1, 5, 13])('is confirmed in its middle, after step %i', (upTo) => {
    const made = scene({ policies, taken: upTo, upTo });
    const later = made.steps.slice(upTo);
    expect(made.steps.slice(0, upTo).every(({ verdict }) => verdict === 'done')).toBe(true);
    expect(later.every(({ verdict, expected }) => verdict === 'not-done' && !expected)).toBe(true);
    expect(status(made)).toBe(0);
  });

  it('says which step is ahead, without counting it', () => {
    const made = scene({ taken: 6, upTo: 5 });
    expect(made.steps.filter(({ ahead }) => ahead).map(({ number }) => number)).toEqual([6]);
    expect(status(made)).toBe(0);
  });

  it('tells a fall of a path that was not foretold where a step is missing in the middle', () => {
    const made = scene({ taken: 8, upTo: 9 });
    expect(open(made).slice(0, 1)).toEqual([
      `${made.steps[8]?.on} not-done ${made.steps[8]?.from}`,
    ]);
    expect(status(made)).toBe(1);
  });
});

/** `node:port` with other facts after the change. */
type Odd = Parameters<typeof withPorts>[0];

describe('a change that was made otherwise', () => {
  it.each<[string, Odd, string[], string[]]>([
    [
      'a step that was forgotten',
      { 'plot-1:en7': { mtuBytes: 1500 } },
      ['plot-1:en7 not-done 1500'],
      ['plotting less'],
    ],
    [
      'a step with another value',
      { 'plot-1:en7': { mtuBytes: 4000 } },
      ['plot-1:en7 other 4000'],
      ['plotting less'],
    ],
    [
      'a step set to more than was asked for',
      { 'quay-sw:xg7': { mtuBytes: 9216 } },
      ['quay-sw:xg7 other 9216'],
      [],
    ],
    [
      'a VLAN interface that was left',
      { 'store:eno1.20': { mtuBytes: 1500 } },
      ['store:eno1.20 not-done 1500'],
      ['copies less'],
    ],
  ])('%s is told and counts', (_, odd, steps, less) => {
    const made = scene({ policies, after: withPorts(odd) });
    expect(open(made)).toEqual(steps);
    expect(paths(made).filter((each) => each.endsWith('less'))).toEqual(less);
    expect(status(made)).toBe(1);
  });

  it.each<[string, Odd, string]>([
    [
      'a member of a bond that did not follow',
      { 'vault:eth5': { mtuBytes: 1500 } },
      'vault:eth5 mtuBytes 9000 1500',
    ],
    [
      'a bridge that did not follow',
      { 'store:br20': { mtuBytes: 1500 } },
      'store:br20 mtuBytes 9000 1500',
    ],
  ])('%s is otherwise than foretold', (_, odd, told) => {
    const made = scene({ after: withPorts(odd) });
    expect(open(made)).toEqual([]);
    expect(
      made.followers.map(({ on, fact, foretold, is }) => `${on} ${fact} ${foretold} ${is}`),
    ).toEqual([told]);
    expect(made.moved).toEqual([]);
    expect(status(made)).toBe(1);
  });

  it('does not tell members apart that stayed with their bond', () => {
    const still = { mtuBytes: 1500 };
    const made = scene({
      after: withPorts({ 'vault:bond0': still, 'vault:eth4': still, 'vault:eth5': still }),
    });
    expect(open(made)).toEqual(['vault:bond0 not-done 1500']);
    expect(made.followers).toEqual([]);
  });

  it('tells members that took the wrong value of their bond with it alone', () => {
    const wrong = { mtuBytes: 4000 };
    const made = scene({
      after: withPorts({ 'vault:bond0': wrong, 'vault:eth4': wrong, 'vault:eth5': wrong }),
    });
    expect(open(made)).toEqual(['vault:bond0 other 4000']);
    expect(made.followers).toEqual([]);
    expect(made.moved).toEqual([]);
  });

  it('takes a later step that earlier ones lead to by themselves for no step ahead', () => {
    // Linux: a VLAN interface is drawn down with what it stands on (net/8021q/vlan.c, from memory).
    const text = `segments: { storage: { mtu: 1500 } }
ports: { "store:eno1.20": { mtu: 1500 }, "store:eno1": { mtu: 1500 }, "plot-1:en7": { mtu: 1500 } }`;
    const sketch = { hosts: 9000, switches: 9216, declared: 9000 };
    const made = scene({ text, sketch, taken: 1, upTo: 1 });
    expect(made.steps.map(({ on, verdict, ahead }) => `${on} ${verdict} ${ahead}`)).toEqual([
      'store:eno1 done false',
      'store:eno1.20 done false',
      'plot-1:en7 not-done false',
    ]);
    expect(made.followers).toEqual([]);
    expect(status(made)).toBe(0);
  });

  it('tells a value of which nothing was known before', () => {
    const text = 'ports: { "plot-1:en7": { mtu: 9000 } }';
    const before = withPorts({ 'plot-1:en7': { mtuBytes: undefined } });
    const odd = withPorts({ 'plot-1:en7': { mtuBytes: 4000 } });
    expect(open(scene({ text, before, after: odd }))).toEqual(['plot-1:en7 other 4000']);
    expect(open(scene({ text, before, after: odd, upTo: 0 }))).toEqual([
      'plot-1:en7 not-done 4000',
    ]);
    expect(open(scene({ text, before }))).toEqual([]);
  });

  it.each([
    [9000, []],
    [9014, []],
    [1500, ['driverMtuBytes']],
  ])('asks of a driver that it allows at least the packet: %i', (driverMtuBytes, told) => {
    const text = 'ports: { "plot-1:en7": { mtu: 9000 } }';
    const made = scene({
      text,
      before: withPorts({ 'plot-1:en7': { driverMtuBytes: 1500 } }),
      after: withPorts({ 'plot-1:en7': { driverMtuBytes } }),
    });
    expect(made.followers.map(({ fact }) => fact)).toEqual(told);
  });

  it('counts a rule that is newly broken, from the least severity on', () => {
    const made = scene({ policies, after: withPorts({ 'quay-sw:xg2': { speedMbps: 1000 } }) });
    expect(bad(made).some((each) => each.endsWith(' quay-sw:xg2'))).toBe(true);
    expect(open(made)).toEqual([]);
    expect(status(made)).toBe(1);
  });

  const cut = { text: raise, sketch: { hosts: 9000, declared: 9000, switches: 1518 } } as const;
  it('names what it mended, and what it was to mend and did not', () => {
    expect(scene({ ...cut, policies }).findings.mended.map(({ subject }) => subject.id)).toContain(
      'plotting',
    );
    const left = scene({
      ...cut,
      policies,
      after: withPorts({ 'quay-sw:xg8': { mtuBytes: 1518 } }),
    });
    expect(left.findings.notMended.map(({ subject }) => subject.id)).toContain('plotting');
    expect(left.findings.mended.map(({ subject }) => subject.id)).not.toContain('plotting');
    expect(status(left)).toBe(1);
  });
});

describe('what else moved', () => {
  it('is told and does not count by itself', () => {
    const made = scene({ after: withPorts({ 'gate:em0': { duplex: 'half' } }) });
    expect(made.moved).toMatchObject([
      { kind: 'fact', node: 'gate', port: 'em0', fact: 'duplex', was: 'full', is: 'half' },
    ]);
    expect(status(made)).toBe(0);
  });

  it('does not hold what the steps explain: lists of modes after a new speed', () => {
    const text = 'links: { "plot-1:en7 - quay-sw:xg2": { speed: 1G } }';
    const can = { supportedModes: ['1000baseT/Full', '10000baseT/Full'] };
    const modes = (names: readonly string[]) =>
      withPorts({
        'plot-1:en7': { ...can, advertisedModes: names },
        'quay-sw:xg2': can,
      });
    const made = scene({
      text,
      before: modes(['10000baseT/Full']),
      after: modes(['1000baseT/Full']),
    });
    expect(open(made)).toEqual([]);
    expect(made.moved).toEqual([]);
    const other = scene({
      text: 'ports: { "vault:eth4": { speed: 1G } }',
      before: modes(['10000baseT/Full']),
      after: modes(['1000baseT/Full']),
    });
    expect(other.moved).toMatchObject([{ port: 'en7', fact: 'advertisedModes' }]);
  });

  const counted = (more: Odd): Scene => ({
    before: withPorts(Object.fromEntries(Object.keys(more).map((port) => [port, zeros]))),
    after: withPorts(more),
  });
  const zeros = { rxCrcErrors: 0, carrierChanges: 2, linkDownEvents: 1 };

  it('counts new errors against the change', () => {
    const made = scene(counted({ 'vault:eth4': { rxCrcErrors: 7 } }));
    expect(made.errors).toEqual([{ node: 'vault', port: 'eth4', fact: 'rxCrcErrors', added: 7 }]);
    expect(status(made)).toBe(1);
  });

  it('takes a link that went down beside a step for what it is, and elsewhere for an error', () => {
    const beside = scene(counted({ 'vault:eth4': { carrierChanges: 4 } }));
    expect(beside.errors).toEqual([]);
    expect(beside.bounces).toMatchObject([{ port: 'eth4', added: 2 }]);
    expect(status(beside)).toBe(0);
    for (const [step, port] of [
      ['plot-1:en7', 'quay-sw:xg2'],
      ['vault:bond0', 'loft-sw:xg3'],
    ] as const) {
      const text = `ports: { "${step}": { mtu: 1400 } }`;
      const across = scene({ ...counted({ [port]: { linkDownEvents: 2 } }), text });
      expect(across.bounces.map((each) => `${each.node}:${each.port}`)).toEqual([port]);
      expect(across.errors).toEqual([]);
    }
    const elsewhere = scene({
      ...counted({ 'gate:em0': { linkDownEvents: 3 } }),
      text: 'ports: { "plot-1:en7": { mtu: 1400 } }',
    });
    expect(elsewhere.errors).toMatchObject([{ node: 'gate', added: 2 }]);
    expect(status(elsewhere)).toBe(1);
  });

  it('never takes a counter that began again for no errors', () => {
    const fell: Scene = {
      before: withPorts({ 'gate:em0': { rxCrcErrors: 9 } }),
      after: withPorts({ 'gate:em0': { rxCrcErrors: 0 } }),
    };
    const made = scene({ ...fell, text: 'ports: { "plot-1:en7": { mtu: 1400 } }' });
    expect(made.uncounted).toEqual([{ node: 'gate', byChange: false }]);
    expect(status(made)).toBe(2);
    expect(scene(fell).uncounted).toEqual([{ node: 'gate', byChange: true }]);
  });
});

describe('a rule that is broken as foretold, and by something else', () => {
  const text = 'links: { "loft-sw:xg4 - vault:eth5": { remove: true } }';
  const up = { 'vault:eth4': { operUp: true }, 'vault:eth5': { operUp: true } };
  const said = (odd: Odd) => {
    const { findings } = scene({
      ...{ policies, text, before: withPorts(up), after: withPorts(odd) },
    });
    const ofBond = [...findings.broken, ...findings.brokenAsForetold].filter(
      ({ rule }) => rule === 'members-up',
    );
    return ofBond.map(({ what, foretold }) => [what, foretold]);
  };
  const without = (port: string) =>
    `members without link: ${port}; the rest carry its traffic, with less bandwidth`;

  it('is as foretold where the cord of the step is out', () => {
    expect(said({})).toEqual([[without('vault:eth5'), undefined]]);
  });

  it('is not where another cord is out', () => {
    const wrong = { 'vault:eth4': { operUp: false }, 'vault:eth5': { operUp: true } };
    expect(said(wrong)).toEqual([[without('vault:eth4'), without('vault:eth5')]]);
  });
});

describe('what cannot be told', () => {
  it('is a step on a node that does not answer, and every path over it', () => {
    const made = scene({ policies, after: silent('vault') });
    expect(open(made)).toEqual(['vault:bond0 cannot-tell']);
    expect(made.steps.find(({ on }) => on === 'vault:bond0')).toMatchObject({
      why: 'vault could not be read: no answer within 10 s',
      look: 'look at it by hand: mtu of vault:bond0 has to be 9000',
    });
    expect(paths(made)).toEqual(['copies cannot-tell', 'plotting cannot-tell']);
    expect(made.findings.unknown.length).toBeGreaterThan(0);
    expect(made.unread).toEqual([
      { node: 'vault', words: 'no answer within 10 s', readBefore: true, mayBeAbsent: false },
    ]);
    expect(status(made)).toBe(2);
  });

  it('is a value that is missing, of a step and of what follows it', () => {
    const made = scene({
      after: withPorts({
        'plot-1:en7': { mtuBytes: undefined },
        'vault:eth5': { mtuBytes: undefined },
      }),
    });
    expect(open(made)).toEqual(['plot-1:en7 cannot-tell']);
    expect(made.followers).toMatchObject([{ on: 'vault:eth5', foretold: 9000 }]);
    expect(made.followers[0]?.is).toBeUndefined();
    expect(status(made)).toBe(2);
  });

  it('is a port that is gone, which no other port stands in for', () => {
    const made = scene({
      after: onNodes((node) => ({ ...node, ports: node.ports.filter((p) => p.name !== 'en7') })),
    });
    expect(made.steps.find(({ on }) => on === 'plot-1:en7')).toMatchObject({
      verdict: 'cannot-tell',
      why: 'plot-1 shows no port en7',
    });
    expect(made.moved).toMatchObject([{ kind: 'port-gone', port: 'en7' }]);
    expect(status(made)).toBe(2);
  });

  it('does not excuse a member that stayed where its bond cannot be read', () => {
    const made = scene({
      after: withPorts({
        'vault:bond0': { mtuBytes: undefined },
        'vault:eth5': { mtuBytes: 1500 },
      }),
    });
    expect(made.followers.map(({ on, is }) => `${on} ${is}`)).toEqual(['vault:eth5 1500']);
    expect(status(made)).toBe(1);
  });

  const unread = {
    sketch: {
      intent: { nodes: { 'loft-sw': { unread: 'switch', frameBytes: 1518 } } },
    },
    text: `${raise}\nnodes: { loft-sw: { mtu: 9216 } }\nports: { "plot-1:en7": { mtu: 9000 } }`,
  } as const;
  it('is a step on a node that nobody reads, with the paths that rest on it', () => {
    const made = scene(unread);
    expect(made.steps.find(({ on }) => on === 'loft-sw')).toMatchObject({
      verdict: 'cannot-tell',
      why: 'nobody reads loft-sw',
      look: 'look at it by hand: the largest frame or MTU of loft-sw has to be 9216',
    });
    expect(made.paths.map(({ verdict, why }) => `${verdict} ${why ?? ''}`)).not.toContain(
      'as-foretold ',
    );
    expect(status(made)).toBe(2);
  });

  it('is a setting of a whole switch where one of its ports is not as asked for', () => {
    const text = 'nodes: { loft-sw: { mtu: 9216 } }';
    expect(open(scene({ text }))).toEqual([]);
    const mixed = scene({ text, after: withPorts({ 'loft-sw:xg4': { mtuBytes: 1518 } }) });
    expect(mixed.steps).toMatchObject([{ verdict: 'other', why: 'xg4 is at 1518' }]);
    expect(status(mixed)).toBe(1);
    const none = scene({ text, taken: 0 });
    expect(none.steps).toMatchObject([{ verdict: 'not-done' }]);
    const dark = scene({ text, after: withPorts({ 'loft-sw:xg4': { mtuBytes: undefined } }) });
    expect(dark.steps).toMatchObject([{ verdict: 'cannot-tell' }]);
    expect(status(dark)).toBe(2);
  });

  it('is a rule of a node that was broken and is away now: not mended', () => {
    const sketch = {
      hosts: 9000,
      declared: 9000,
      switches: 9216,
      intent: { nodes: { 'plot-1': { mayBeAbsent: true } } },
    } as const;
    const slow = withPorts({ 'plot-1:en7': { speedMbps: 1000 } });
    const made = scene({
      policies,
      sketch,
      before: slow,
      text: 'ports: { "vault:bond0": { mtu: 8000 } }',
      after: silent('plot-1'),
    });
    const about = (list: readonly { readonly subject: { readonly id: string } }[]) =>
      list.filter(({ subject }) => subject.id === 'plot-1:en7').length;
    expect(about(made.findings.mended)).toBe(0);
    expect(about(made.findings.unknown)).toBeGreaterThan(0);
    expect(status(made)).not.toBe(0);
  });
});

describe('a cord that a second intent lays elsewhere', () => {
  const links = (port: string) =>
    makeIntent({
      nodes: { 'plot-1': {}, 'quay-sw': {} },
      links: { [`plot-1:en7 - quay-sw:${port}`]: {} },
    });
  const heardAt = (portId: string | undefined) =>
    makeSurvey({
      'plot-1': {
        ports: { en7: {} },
        neighbours:
          portId === undefined
            ? []
            : [
                {
                  port: 'en7',
                  chassis: '02:00:5e:00:00:90',
                  chassisKind: 'mac',
                  portId,
                  portIdKind: 'name',
                  systemName: 'quay-sw',
                  capabilities: ['bridge'],
                  addresses: [],
                },
              ],
      },
      'quay-sw': {
        facts: { systemName: 'quay-sw' },
        ports: { xg2: { operUp: portId === 'xg2' }, xg8: {}, xg9: {} },
      },
    });

  it.each([
    ['xg9', { verdict: 'done' }, 0],
    ['xg2', { verdict: 'not-done', why: 'quay-sw:xg2 is heard there' }, 1],
    ['xg8', { verdict: 'other', why: 'quay-sw:xg8 is heard there' }, 1],
    [
      undefined,
      { verdict: 'cannot-tell', look: 'follow the cord from plot-1:en7 to quay-sw:xg9' },
      2,
    ],
  ])('is judged by who is heard at its port: %s', (port, step, wanted) => {
    const [before, after, kept] = [links('xg2'), links('xg9'), heardAt('xg2')];
    const plan = planChange(before, kept, askedByIntent(before, after));
    if (!plan.ok) throw new Error(JSON.stringify(plan.faults));
    const { steps } = plan.value;
    const made = confirm(
      {
        ...{ before, planned: plan.value, order: steps, kept, survey: heardAt(port) },
        ...{ policies: [], now: '2026-11-25T03:00:00.000Z', upTo: steps.length },
      },
      { change: 'next.yaml', rehearsedAt: '2026-11-25T02:10:00.000Z' },
    );
    expect(made.steps).toHaveLength(1);
    expect(made.steps[0]).toMatchObject({ setting: 'link', to: 'quay-sw:xg9', ...step });
    expect(made.moved).toEqual([]);
    expect(status(made)).toBe(wanted);
  });
});

describe('speed, duplex and negotiation that one step sets', () => {
  const port = { autoNegotiation: true, speedMbps: 100, duplex: 'full' };
  const text = 'ports: { "vault:eth4": { speed: 100M, duplex: half, negotiate: false } }';
  const verdictsOf = (facts: Readonly<Record<string, unknown>>) =>
    scene({
      text,
      sketch: { eth4: port },
      after: withPorts({ 'vault:eth4': { ...port, ...facts } }),
    }).steps.map(({ verdict }) => verdict);

  it.each([
    ['not done where only what was so already is as asked for', {}, 'not-done'],
    ['other where one of them was set', { duplex: 'half' }, 'other'],
    ['done where all are', { duplex: 'half', autoNegotiation: false }, 'done'],
  ])('is %s', (_, facts, verdict) => {
    expect(verdictsOf(facts)).toEqual([verdict]);
  });
});
