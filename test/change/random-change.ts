import fc from 'fast-check';
import { cordSetting } from '../../src/change/cords.ts';
import { type PlannedChange, planChange } from '../../src/change/plan-change.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';
import { type LinkSketch, makeIntent, makeSurvey, place } from '../site/builders.ts';

/** A small site with a change that lists some of its ports. */
export interface RandomChange {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly planned: PlannedChange;
}

const size = fc.constantFrom(1500, 4000, 9000);
/** What switches count, and whether they are believed where all their ports say 1500. */
const counted = fc.record({
  counts: fc.constantFrom('header-fcs' as const, 'payload' as const),
  believe: fc.constantFrom<readonly 'mtu'[]>([], ['mtu']),
});
const hosts = ['plot-1', 'plot-2', 'vault'];
const ports = [
  ...hosts.map((host) => `${host}:eth0`),
  'plot-2:eth0.20',
  'vault:bond0',
  ...['xg1', 'xg2', 'xg8'].map((port) => `quay-sw:${port}`),
  ...['xg1', 'xg3', 'xg4'].map((port) => `loft-sw:${port}`),
];

/** What else may be set, or be wrong before. */
interface OddSketch {
  /** Ends of the link of plot-1, forced to 10 Gb/s, that are set to 1 Gb/s. */
  readonly slowed: readonly string[];
  /** Ports of switches that do not carry the VLAN. */
  readonly lacking: readonly string[];
}

/** One end of a forced link that is slowed has no link until the other follows (IEEE 802.3). */
export const someOdd: fc.Arbitrary<OddSketch> = fc.record({
  slowed: fc.subarray(['plot-1:eth0', 'quay-sw:xg1']),
  lacking: fc.subarray(['quay-sw:xg8', 'loft-sw:xg3', 'loft-sw:xg4', 'loft-sw:xg9', 'quay-sw:xg2']),
});

/** A cord of the site by the link that it is, and the end that it comes to in place of another. */
interface CordSketch {
  readonly takes: string;
  /** Absent: it is taken away. */
  readonly lays?: string;
}

/** No two cords end in one port once all are moved; a change file with such is refused. */
function isLaid(cords: readonly CordSketch[]): boolean {
  const comes = cords.flatMap(({ lays }) => lays?.split(' - ')[1] ?? []);
  const leaves = cords.flatMap(({ takes }) => takes.split(' - '));
  const taken = ['quay-sw:xg1', 'quay-sw:xg2'].filter((port) => !leaves.includes(port));
  return new Set(comes).size === comes.length && !comes.some((port) => taken.includes(port));
}

/** Cords that may be moved, each at most once: to a free port, to each other's, or away. */
export const someCords: fc.Arbitrary<readonly CordSketch[]> = fc
  .uniqueArray(
    fc.constantFrom<CordSketch>(
      { takes: 'plot-1:eth0 - quay-sw:xg1', lays: 'plot-1:eth0 - loft-sw:xg9' },
      { takes: 'plot-1:eth0 - quay-sw:xg1', lays: 'plot-1:eth0 - quay-sw:xg2' },
      { takes: 'plot-2:eth0 - quay-sw:xg2', lays: 'plot-2:eth0 - quay-sw:xg1' },
      { takes: 'plot-2:eth0 - quay-sw:xg2', lays: 'plot-2:eth0 - loft-sw:xg9' },
      { takes: 'quay-sw:xg8 - loft-sw:xg1', lays: 'quay-sw:xg9 - loft-sw:xg1' },
      { takes: 'quay-sw:xg8 - loft-sw:xg1' },
      { takes: 'loft-sw:xg3 - vault:eth0' },
    ),
    { minLength: 1, maxLength: 3, selector: ({ takes }) => takes },
  )
  .filter(isLaid);

function cordOf(intent: Intent, { takes, lays }: CordSketch) {
  const link = intent.links.find(({ id }) => id === takes);
  if (link === undefined) throw new Error(`no link ${takes}`);
  if (lays === undefined) return cordSetting({ takes: link, leaving: [] }, place);
  const [a, b] = lays.split(' - ').map((end) => {
    const [node = '', port = ''] = end.split(':');
    return { node, port, place };
  });
  if (a === undefined || b === undefined) throw new Error(`no ends in ${lays}`);
  return cordSetting(
    { takes: link, lays: { ...link, id: lays, ends: [a, b] }, leaving: [] },
    place,
  );
}

/**
 * plot-1 and plot-2 (a VLAN interface) on quay-sw, vault (a bond) on loft-sw, an uplink between
 * them; every port as large as it comes, and up to `stepsMax` of them set to another size.
 */
export function randomChange(
  stepsMax: number,
  moves: fc.Arbitrary<readonly CordSketch[]> = fc.constant([]),
  odd: fc.Arbitrary<OddSketch> = fc.constant({ slowed: [], lacking: [] }),
): fc.Arbitrary<RandomChange> {
  const chosen = fc.uniqueArray(fc.tuple(fc.constantFrom(...ports), size), {
    minLength: 1,
    maxLength: stepsMax,
    selector: ([port]) => port,
  });
  const base = fc.dictionary(fc.constantFrom(...ports), size);
  return fc
    .tuple(base, chosen, size, counted, moves, odd)
    .map(([sizes, settings, declared, { counts, believe }, cords, { slowed, lacking }]) => {
      const of = (port: string) => sizes[port] ?? 1500;
      const link: LinkSketch = { untagged: 'storage' };
      const sw = { mtuCounts: { port: counts }, believe };
      const intent = makeIntent({
        nodes: { 'plot-1': {}, 'plot-2': {}, vault: {}, 'quay-sw': sw, 'loft-sw': sw },
        segments: { storage: { vlan: 20, mtuBytes: declared } },
        links: {
          'plot-1:eth0 - quay-sw:xg1': link,
          'plot-2:eth0 - quay-sw:xg2': { tagged: ['storage'] },
          'quay-sw:xg8 - loft-sw:xg1': { tagged: ['storage'] },
          'loft-sw:xg3 - vault:eth0': { ...link, lag: 'up' },
          'loft-sw:xg4 - vault:eth1': { ...link, lag: 'up' },
        },
        paths: { plotting: { from: ['plot-1', 'plot-2'], to: ['vault'], over: ['storage'] } },
      });
      const none = { addresses: [] };
      const framing = counts === 'payload' ? 0 : 22;
      const forced = {
        autoNegotiation: false,
        supportedModes: ['1000baseT/Full', '10000baseT/Full'],
      };
      const frame = (port: string) => ({
        mtuBytes: of(port) + framing,
        ...(port === 'quay-sw:xg1' ? forced : {}),
        ...(lacking.includes(port) ? { untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [] } : {}),
      });
      const survey = makeSurvey({
        'plot-1': {
          ports: {
            eth0: { ...forced, mtuBytes: of('plot-1:eth0'), addresses: ['198.18.20.1/24'] },
          },
        },
        'plot-2': {
          ports: {
            eth0: { mtuBytes: of('plot-2:eth0'), ...none },
            'eth0.20': {
              kind: 'vlan',
              vlanId: 20,
              mtuBytes: Math.min(of('plot-2:eth0'), of('plot-2:eth0.20')),
              lowerPorts: ['eth0'],
              addresses: ['198.18.20.2/24'],
            },
          },
        },
        vault: {
          ports: {
            eth0: { mtuBytes: of('vault:eth0'), ...none },
            eth1: { mtuBytes: of('vault:bond0'), ...none },
            bond0: {
              kind: 'bond',
              mtuBytes: of('vault:bond0'),
              lowerPorts: ['eth0', 'eth1'],
              addresses: ['198.18.20.3/24'],
            },
          },
        },
        'quay-sw': {
          ports: {
            xg1: frame('quay-sw:xg1'),
            xg2: frame('quay-sw:xg2'),
            xg8: frame('quay-sw:xg8'),
            xg9: frame('quay-sw:xg9'),
          },
        },
        'loft-sw': {
          ports: {
            xg1: frame('loft-sw:xg1'),
            xg3: frame('loft-sw:xg3'),
            xg4: frame('loft-sw:xg4'),
            xg9: frame('loft-sw:xg9'),
          },
        },
      });
      const asked = settings.map(([port, to]) => {
        const [node = '', name = ''] = port.split(':');
        return {
          node,
          port: name,
          setting: 'mtu' as const,
          to: node.endsWith('-sw') ? to + framing : to,
          place,
        };
      });
      const none2 = new Map();
      const made = planChange(intent, survey, {
        settings: [
          ...asked,
          ...slowed.map((port) => {
            const [node = '', name = ''] = port.split(':');
            return { node, port: name, setting: 'speed' as const, to: 1000, place };
          }),
          ...cords.map((each) => cordOf(intent, each)),
        ],
        segments: [],
        mtuChange: none2,
        speeds: none2,
        duplexes: none2,
      });
      if (!made.ok) throw new Error(JSON.stringify(made.faults));
      return { intent, survey, planned: made.value };
    });
}
