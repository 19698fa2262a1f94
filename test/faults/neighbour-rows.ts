import type { CauseKind } from '../../src/diagnose/cause.ts';
import {
  type HarbourSketch,
  harbourHeard,
  harbourLinks,
  harbourNetwork,
  learnt,
  macs,
  says,
} from '../site/harbour-site.ts';
import { type Described, intentText } from './described.ts';
import type { Fault } from './fault.ts';

function harbour(sketch: HarbourSketch = {}): Described {
  const { intent, survey } = harbourNetwork(sketch);
  return { intent: intentText(intent), survey };
}

const quay = harbourHeard['quay-sw'] ?? { neighbours: [], forwarding: [] };
const heardAt = (...forwarding: readonly ReturnType<typeof learnt>[]): HarbourSketch => {
  const changed = new Set(forwarding.map(({ port }) => port));
  const kept = quay.forwarding.filter(({ port }) => !changed.has(port));
  return { heard: { 'quay-sw': { forwarding: [...kept, ...forwarding] } } };
};
const slow = { speedMbps: 1000 } as const;
const trunk = { mtuBytes: 9216, ...slow, untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [20] };
const twoWays = (blocked: HarbourSketch['ports']): HarbourSketch => ({
  intent: {
    links: {
      ...Object.fromEntries(
        Object.entries(harbourLinks).filter(([id]) => id !== 'vault:eth4 - quay-sw:xg3'),
      ),
      'vault:eth5 - loft-sw:xg3': { untagged: 'storage', speedMbps: 10_000 },
      'quay-sw:g8 - loft-sw:g8': { tagged: ['storage'], speedMbps: 1000 },
    },
  },
  ports: {
    'quay-sw:g8': trunk,
    'loft-sw:g8': trunk,
    'quay-sw:xg3': { operUp: false },
    ...blocked,
  },
});

const desk = 'plot-1:desk - quay-sw:xg2';
const second = 'vault:eth5 - loft-sw:xg3';

interface Told {
  readonly key: string;
  readonly what: string;
  readonly finds: readonly string[];
  readonly at: string;
  readonly explains?: readonly [target: string, kind: CauseKind, names: string];
}

function row({ explains, ...told }: Told, sick: HarbourSketch, healthy?: HarbourSketch): Fault {
  const [target, kind, names] = explains ?? [];
  return {
    ...told,
    sick: harbour(sick),
    healthy: harbour(healthy),
    ...(target === undefined || kind === undefined || names === undefined
      ? {}
      : { explains: { target, kind, names } }),
  };
}

/** Faults of who is at the other end, VLANs, spanning tree and LACP. */
export const neighbourRows: readonly Fault[] = [
  row(
    {
      key: 'two-cords-swapped',
      what: 'the cords of two hosts were swapped at the switch',
      finds: ['neighbour-as-declared'],
      at: 'quay-sw:xg7',
      explains: [desk, 'moved', 'it is found on quay-sw:xg7'],
    },
    heardAt(learnt('xg2', macs.gate), learnt('xg7', macs.desk)),
  ),
  row(
    {
      key: 'cord-moved-to-a-spare-port',
      what: 'a host was plugged into another port',
      finds: ['far-end-in-place', 'port-up'],
      at: 'quay-sw:xg5',
      explains: [desk, 'moved', 'it is found on quay-sw:xg5'],
    },
    {
      ...heardAt(learnt('xg2'), learnt('xg5', macs.desk)),
      ports: { 'quay-sw:xg2': { operUp: false } },
    },
  ),
  row(
    {
      key: 'hidden-switch-by-its-stations',
      what: 'several stations are heard where one host is declared',
      finds: ['stations-behind'],
      at: 'quay-sw:xg7',
    },
    heardAt(learnt('xg7', macs.gate, ...macs.strangers)),
  ),
  row(
    {
      key: 'telephone-in-the-middle',
      what: 'a telephone was put between a host and its switch',
      finds: ['nothing-between'],
      at: 'quay-sw:xg2',
    },
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
  ),
  row(
    {
      key: 'uplink-small-by-what-it-announces',
      what: 'a switch that nobody reads announces frames smaller than declared',
      finds: ['path-clearance', 'port-clearance', 'switch-carries-segment'],
      at: 'loft-sw:xg1',
      explains: ['plotting', 'small-packet', 'loft-sw:xg1'],
    },
    {
      nodes: { 'loft-sw': { unread: 'switch' } },
      heard: {
        'quay-sw': { neighbours: [says('xg8', 'loft-sw', 'xg1', { frameMaxBytes: 4000 })] },
      },
    },
    {
      nodes: { 'loft-sw': { unread: 'switch' } },
      heard: {
        'quay-sw': { neighbours: [says('xg8', 'loft-sw', 'xg1', { frameMaxBytes: 9216 })] },
      },
    },
  ),
  row(
    {
      key: 'vlan-missing-on-a-trunk',
      what: 'a trunk does not carry the VLAN of the segment',
      finds: ['vlans-carried'],
      at: 'loft-sw:xg1',
      explains: ['quay-sw:xg8 - loft-sw:xg1', 'vlan', 'loft-sw:xg1'],
    },
    { ports: { 'loft-sw:xg1': { taggedVlans: [30] } } },
  ),
  row(
    {
      key: 'fast-way-blocked',
      what: 'the spanning tree blocks the fast way, and a slow one carries',
      finds: ['best-way-open'],
      at: 'loft-sw:xg1',
      explains: ['plotting', 'blocked-way', 'loft-sw:xg1'],
    },
    twoWays({ 'loft-sw:xg1': { spanningTree: 'blocking' } }),
    twoWays({ 'loft-sw:g8': { ...trunk, spanningTree: 'blocking' } }),
  ),
  row(
    {
      key: 'aggregate-member-out-of-step',
      what: 'a member has a link, and LACP leaves it out',
      finds: ['member-distributes'],
      at: 'loft-sw:xg3',
      explains: [second, 'lag-member', 'loft-sw:xg3'],
    },
    { ports: { 'loft-sw:xg3': { lacpActor: ['activity', 'aggregation', 'defaulted'] } } },
  ),
  row(
    {
      key: 'aggregate-member-to-another-system',
      what: 'a member leads to another device than the others',
      finds: ['members-same-partner'],
      at: 'vault:eth4',
      explains: ['vault:eth4 - quay-sw:xg3', 'lag-member', 'different systems'],
    },
    { ports: { 'vault:eth5': { lacpPartnerSystem: '02:00:5e:00:0b:01' } } },
  ),
  row(
    {
      key: 'aggregate-member-in-an-aggregator-of-its-own',
      what: 'a member stands in an aggregate of its own',
      finds: ['members-same-aggregator'],
      at: 'vault:eth4',
      explains: ['vault:eth4 - quay-sw:xg3', 'lag-member', 'not in one aggregate'],
    },
    { ports: { 'vault:eth5': { aggregatorId: 2 } } },
  ),
  row(
    {
      key: 'aggregate-member-at-a-gigabit',
      what: 'a member of 10 Gb/s runs at 1 Gb/s',
      finds: ['members-same-speed', 'speed-as-declared'],
      at: second,
      explains: [second, 'lag-mixed', 'vault-up'],
    },
    { ports: { 'vault:eth5': slow, 'loft-sw:xg3': slow } },
  ),
];
