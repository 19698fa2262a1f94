import { describe, expect, it } from 'vitest';
import { judge } from '../../src/judge/judge.ts';
import { causeGroups } from '../../src/report/cause-groups.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import {
  type HarbourSketch,
  harbourHeard,
  harbourLinks,
  harbourSite,
  learnt,
  macs,
  says,
} from '../site/harbour-site.ts';
import { loadShipped } from './shipped.ts';

const policies = await loadShipped('essential', 'jumbo', 'cabling', 'signal');

function judged(sketch: HarbourSketch) {
  const judgement = judge(subjectsOf(harbourSite(sketch)), policies, {
    waivers: [],
    now: '2026-11-25',
  });
  expect(judgement.faults).toEqual([]);
  return judgement;
}

const quay = harbourHeard['quay-sw'] ?? { neighbours: [], forwarding: [] };
const loft = harbourHeard['loft-sw'] ?? { neighbours: [], forwarding: [] };
const tables = (...forwarding: readonly ReturnType<typeof learnt>[]) => {
  const changed = new Set(forwarding.map(({ port }) => port));
  return [...quay.forwarding.filter(({ port }) => !changed.has(port)), ...forwarding];
};
const desk = 'link plot-1:desk - quay-sw:xg2';
// Of two members that differ nothing tells which is the odd one.
const first = 'link vault:eth4 - quay-sw:xg3';
const second = 'link vault:eth5 - loft-sw:xg3';
const bits = ['activity', 'aggregation', 'defaulted'];
const slow = { speedMbps: 1000 } as const;

const single = Object.fromEntries(
  Object.entries(harbourLinks).filter(([id]) => id !== 'vault:eth4 - quay-sw:xg3'),
);
/** A slow second cord between the switches, and the fast one blocked. */
const blockedFast: HarbourSketch = {
  intent: {
    links: {
      ...single,
      'vault:eth5 - loft-sw:xg3': { untagged: 'storage', speedMbps: 10_000 },
      'quay-sw:g8 - loft-sw:g8': { tagged: ['storage'], speedMbps: 1000 },
    },
  },
  ports: {
    'quay-sw:g8': {
      mtuBytes: 9216,
      ...slow,
      untaggedVlan: 1,
      untaggedVlans: [1],
      taggedVlans: [20],
    },
    'loft-sw:g8': {
      mtuBytes: 9216,
      ...slow,
      untaggedVlan: 1,
      untaggedVlans: [1],
      taggedVlans: [20],
    },
    'loft-sw:xg1': { spanningTree: 'blocking' },
    'quay-sw:xg3': { operUp: false },
  },
};

const faults: readonly (readonly [
  name: string,
  sketch: HarbourSketch,
  cause: string,
  broken: readonly string[],
])[] = [
  [
    'a swapped pair of hosts that do not speak LLDP',
    {
      heard: {
        'quay-sw': { forwarding: tables(learnt('xg2', macs.gate), learnt('xg7', macs.desk)) },
      },
    },
    desk,
    ['neighbour-as-declared quay-sw:xg2', 'neighbour-as-declared quay-sw:xg7'],
  ],
  [
    'a swapped pair that LLDP sees from all four ends',
    {
      heard: {
        'quay-sw': {
          neighbours: [
            ...quay.neighbours,
            says('xg2', 'gate', 'em0'),
            says('xg7', 'plot-1', 'desk'),
          ],
          forwarding: tables(learnt('xg2', macs.gate), learnt('xg7', macs.desk)),
        },
        'plot-1': { neighbours: [says('desk', 'quay-sw', 'xg7')] },
        gate: { neighbours: [says('em0', 'quay-sw', 'xg2')] },
      },
    },
    desk,
    [
      'neighbour-as-declared gate:em0',
      'neighbour-as-declared plot-1:desk',
      'neighbour-as-declared quay-sw:xg2',
      'neighbour-as-declared quay-sw:xg7',
    ],
  ],
  [
    'a cord moved to a spare port',
    {
      heard: { 'quay-sw': { forwarding: tables(learnt('xg2'), learnt('xg5', macs.desk)) } },
      ports: { 'quay-sw:xg2': { operUp: false } },
    },
    desk,
    ['far-end-in-place quay-sw:xg2', 'port-up quay-sw:xg2'],
  ],
  [
    'an access port in the wrong VLAN',
    { ports: { 'quay-sw:xg2': { untaggedVlan: 1, untaggedVlans: [1] } } },
    'vlans of quay-sw:xg2',
    ['no-other-vlan quay-sw:xg2', 'vlans-carried quay-sw:xg2'],
  ],
  [
    'a VLAN that a trunk does not carry',
    { ports: { 'loft-sw:xg1': { taggedVlans: [30] } } },
    'vlans of loft-sw:xg1',
    ['vlans-carried loft-sw:xg1'],
  ],
  [
    'the fast way blocked while a slow one carries',
    blockedFast,
    'spanning tree of plotting',
    ['best-way-open plotting'],
  ],
  [
    'the only way blocked',
    {
      intent: { links: { ...single, 'vault:eth5 - loft-sw:xg3': { untagged: 'storage' } } },
      ports: { 'quay-sw:xg8': { spanningTree: 'blocking' }, 'quay-sw:xg3': { operUp: false } },
    },
    'spanning tree of plotting',
    ['best-way-open plotting'],
  ],
  [
    'a member that nobody answers',
    { ports: { 'loft-sw:xg3': { lacpActor: bits } } },
    second,
    ['member-distributes loft-sw:xg3'],
  ],
  [
    'a member to another system',
    { ports: { 'vault:eth5': { lacpPartnerSystem: '02:00:5e:00:0b:01' } } },
    first,
    ['members-same-partner vault:eth4 - quay-sw:xg3'],
  ],
  [
    'a member in an aggregator of its own',
    { ports: { 'vault:eth5': { aggregatorId: 2 } } },
    first,
    ['members-same-aggregator vault:eth4 - quay-sw:xg3'],
  ],
  [
    'a port that is not in the bond',
    {
      ports: {
        'vault:bond0': { lowerPorts: ['eth4'] },
        'vault:eth5': { aggregate: undefined as never, lacpActor: undefined as never },
      },
    },
    second,
    ['members-present vault:eth5 - loft-sw:xg3'],
  ],
  [
    'a member at a gigabit',
    { ports: { 'vault:eth5': slow, 'loft-sw:xg3': slow } },
    second,
    [
      'members-same-speed vault:eth5 - loft-sw:xg3',
      'speed-as-declared loft-sw:xg3',
      'speed-as-declared vault:eth5',
    ],
  ],
  [
    'an unread switch that says it passes less than declared',
    {
      nodes: { 'loft-sw': { unread: 'switch' } },
      heard: {
        'quay-sw': { neighbours: [says('xg8', 'loft-sw', 'xg1', { frameMaxBytes: 4000 })] },
      },
    },
    'mtu loft-sw:xg1',
    ['path-clearance plotting', 'port-clearance loft-sw:xg1', 'switch-carries-segment loft-sw:xg1'],
  ],
];

describe('one fault gives one cause', () => {
  it.each(faults)('%s', (_name, sketch, cause, broken) => {
    const told = judged(sketch).findings.filter(({ severity }) => severity !== 'notice');
    expect([...new Set(told.map((finding) => finding.cause))]).toEqual([cause]);
    expect(told.map(({ rule, subject }) => `${rule} ${subject.id}`).sort()).toEqual(
      [...broken].sort(),
    );
    for (const { what, verdict } of told) {
      expect(verdict).toBe('broken');
      expect(what).not.toContain('(unknown)');
    }
  });

  it('says of a cord that moved where it is, before that the link is down', () => {
    const [, sketch] = faults.find(([name]) => name === 'a cord moved to a spare port') ?? [];
    const [group] = causeGroups(judged(sketch ?? {}).findings);
    expect(group?.lead.what).toBe('plot-1:desk is not heard here; it is found on quay-sw:xg5');
  });

  it('names both ends of a swap in one line', () => {
    const [, sketch] = faults[0] ?? [];
    const [group] = causeGroups(judged(sketch ?? {}).findings);
    expect(group?.lead.what).toBe(
      'declared plot-1:desk, heard gate:em0 there; plot-1:desk is found on quay-sw:xg7',
    );
  });
});

describe('notices', () => {
  it.each([
    [
      'stations behind a port to one host',
      { nodes: { 'quay-sw': {} } },
      ['stations-behind quay-sw:xg6'],
    ],
    [
      'a telephone in the middle',
      {
        heard: {
          'quay-sw': {
            neighbours: [
              ...quay.neighbours,
              says('xg2', 'telephone-9', '1', { capabilities: ['telephone'] }),
            ],
          },
        },
      },
      ['nothing-between quay-sw:xg2'],
    ],
    [
      'a cord between switches that nobody declared',
      { heard: { 'loft-sw': { neighbours: [...loft.neighbours, says('xg9', 'quay-sw', 'xg5')] } } },
      ['links-declared loft-sw'],
    ],
  ] as const)('tell of %s', (_name, sketch, told) => {
    const { findings } = judged(sketch);
    expect(findings.map(({ rule, subject }) => `${rule} ${subject.id}`)).toEqual(told);
    for (const { severity } of findings) expect(severity).toBe('notice');
  });
});

const silent: readonly (readonly [name: string, sketch: HarbourSketch])[] = [
  ['an office in good order', {}],
  [
    'nobody who speaks or is heard',
    {
      heard: {
        'quay-sw': { neighbours: [], forwarding: [] },
        'loft-sw': { neighbours: [], forwarding: [] },
      },
    },
  ],
  [
    'a second way of equal speed that the spanning tree blocks',
    {
      intent: {
        links: {
          ...harbourLinks,
          'quay-sw:xg9 - loft-sw:xg9': { tagged: ['storage'], speedMbps: 10_000 },
        },
      },
      ports: {
        'quay-sw:xg9': { mtuBytes: 9216, spanningTree: 'forwarding' },
        'loft-sw:xg9': { mtuBytes: 9216, spanningTree: 'blocking' },
      },
    },
  ],
  [
    'more VLANs on a trunk between switches',
    { ports: { 'loft-sw:xg1': { taggedVlans: [20, 40, 50] } } },
  ],
  [
    'switches that serve none of these tables',
    {
      readings: Object.fromEntries(
        ['quay-sw', 'loft-sw'].map((node) => [
          node,
          {
            neighbours: undefined as never,
            forwarding: undefined as never,
            gaps: {
              neighbours: { reason: 'unsupported', words: 'no LLDP' },
              forwarding: { reason: 'unsupported', words: 'no table' },
            },
          },
        ]),
      ),
    },
  ],
];

describe('silence', () => {
  it.each(silent)('on %s', (_name, sketch) => {
    const { findings, tally } = judged(sketch);
    expect(findings.map(({ rule, subject, what }) => [rule, subject.id, what])).toEqual([]);
    expect(tally.met).toBeGreaterThan(50);
  });
});
