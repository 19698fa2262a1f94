import { describe, expect, it } from 'vitest';
import type { Trouble } from '../../src/facts/trouble.ts';
import { judge } from '../../src/judge/judge.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import { type PlottingSketch, plottingSite } from '../site/plotting-site.ts';
import { loadShipped } from './shipped.ts';

const policies = await loadShipped('essential', 'jumbo');

function judgeSite(sketch: PlottingSketch) {
  return judge(subjectsOf(plottingSite(sketch)), policies, { waivers: [], now: '2026-11-25' });
}

const silentNode: Trouble = {
  kind: 'no-answer',
  seen: 'no answer in 10 s',
  remedy: 'see that it is on',
};
const refused: Trouble = { kind: 'login-refused', seen: 'login refused', remedy: 'see the key' };
const gone = { ports: {}, routes: {}, trouble: silentNode };
const deskLink = 'link plot-1:desk - quay-sw:xg2';
const vaultLink = 'link quay-sw:xg3 - vault:eth4';

// Each fault with the one cause that all its findings name, and the broken rules.
const faults: readonly (readonly [
  name: string,
  sketch: PlottingSketch,
  cause: string,
  broken: readonly string[],
])[] = [
  [
    'a server at 1500',
    { eth4: { mtuBytes: 1500 } },
    'mtu vault:eth4',
    ['segment-agrees storage', 'path-clearance plotting', 'port-clearance vault:eth4'],
  ],
  [
    'a server at 1500 with sessions',
    {
      eth4: { mtuBytes: 1500 },
      readings: {
        'plot-1': {
          ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } },
          routes: { '198.18.20.2': 'desk' },
          sessions: [
            {
              local: '198.18.20.1',
              remote: '198.18.20.2',
              segmentBytes: 1448,
              advertisedBytes: 8948,
            },
          ],
        },
      },
    },
    'mtu vault:eth4',
    [
      'segment-agrees storage',
      'path-clearance plotting',
      'port-clearance vault:eth4',
      'sessions-full-size plotting: plot-1 to vault',
    ],
  ],
  [
    'a switch port at 1500',
    { xg3: { mtuBytes: 1500 } },
    'mtu quay-sw:xg3',
    ['path-clearance plotting', 'port-clearance quay-sw:xg3', 'switch-carries-segment quay-sw:xg3'],
  ],
  [
    'a cable pulled',
    { eth4: { operUp: false }, xg3: { operUp: false } },
    vaultLink,
    ['port-up quay-sw:xg3', 'port-up vault:eth4'],
  ],
  [
    'a port switched off',
    { eth4: { adminUp: false, operUp: false }, xg3: { operUp: false } },
    vaultLink,
    ['port-enabled vault:eth4', 'port-up quay-sw:xg3'],
  ],
  [
    'a link at a tenth',
    { desk: { speedMbps: 1000 }, xg2: { speedMbps: 1000 } },
    deskLink,
    ['speed-as-declared plot-1:desk', 'speed-as-declared quay-sw:xg2'],
  ],
  [
    'a duplex mismatch',
    {
      desk: { speedMbps: 100, duplex: 'half' },
      xg2: { speedMbps: 100 },
      link: { untagged: 'storage', speedMbps: 100 },
      eth4: { speedMbps: 100 },
      xg3: { speedMbps: 100 },
    },
    deskLink,
    ['duplex-full plot-1:desk', 'ends-same-duplex plot-1:desk - quay-sw:xg2'],
  ],
  ['a server that gives no answer', { readings: { vault: gone } }, 'node vault', []],
  [
    'a server that refuses',
    { readings: { vault: { ...gone, trouble: refused } } },
    'node vault',
    [],
  ],
  [
    'a laptop that sleeps, answers and refuses',
    {
      nodes: { 'plot-1': { sleeps: true } },
      readings: { 'plot-1': { ...gone, trouble: refused } },
    },
    'node plot-1',
    [],
  ],
  [
    'a port that is not there',
    {
      readings: { vault: { ports: { eth5: { mtuBytes: 9000 } }, routes: {} } },
    },
    'port vault:eth4',
    ['port-found vault:eth4'],
  ],
  [
    'ends that nothing joins',
    {
      intent: { links: { 'quay-sw:xg3 - vault:eth4': { untagged: 'storage', speedMbps: 10_000 } } },
      readings: { 'quay-sw': { ports: { xg3: { mtuBytes: 9216 } } } },
    },
    'path plotting is not joined',
    ['path-joined plotting'],
  ],
  [
    'traffic by another port',
    {
      readings: {
        'plot-1': {
          ports: {
            desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] },
            en0: { kind: 'wireless' },
          },
          routes: { '198.18.20.2': 'en0' },
        },
      },
    },
    'leaves-as-declared plotting: plot-1 to vault',
    ['leaves-as-declared plotting: plot-1 to vault'],
  ],
];

describe('one fault gives one cause', () => {
  it.each(faults)('%s', (_name, sketch, cause, broken) => {
    const { findings } = judgeSite(sketch);
    const told = findings.filter(({ severity }) => severity !== 'notice');
    expect([...new Set(told.map((finding) => finding.cause))]).toEqual([cause]);
    const said = told.filter(({ verdict }) => verdict === 'broken');
    expect(said.map(({ rule, subject }) => `${rule} ${subject.id}`).sort()).toEqual(
      [...broken].sort(),
    );
    for (const finding of said) expect(finding.what).not.toContain('(unknown)');
  });
});

const silent: readonly (readonly [name: string, sketch: PlottingSketch])[] = [
  ['9216 on switches under 9000 on hosts', {}],
  [
    '1500 everywhere',
    {
      mtuBytes: 1500,
      desk: { mtuBytes: 1500 },
      xg2: { mtuBytes: 1500 },
      xg3: { mtuBytes: 1500 },
      eth4: { mtuBytes: 1500 },
    },
  ],
  [
    'a laptop that sleeps, and the switch port that it left',
    {
      nodes: { 'plot-1': { sleeps: true } },
      readings: { 'plot-1': gone },
      xg2: { operUp: false },
    },
  ],
  [
    'a node that may be away',
    {
      nodes: { 'plot-1': { mayBeAbsent: true } },
      readings: { 'plot-1': gone },
      xg2: { operUp: false },
    },
  ],
  [
    'a virtual port that claims 10 Gb/s',
    {
      eth4: { kind: 'virtual', speedMbps: 10_000 },
      link: { untagged: 'storage', speedMbps: 25_000 },
      desk: { speedMbps: 25_000 },
      xg2: { speedMbps: 25_000 },
      xg3: { speedMbps: 25_000 },
    },
  ],
  [
    'an unread switch on the word of the owner',
    {
      nodes: { 'quay-sw': { unread: 'switch', frameBytes: 9216 } },
      readings: { 'quay-sw': { ports: {} } },
    },
  ],
];

describe('silence', () => {
  it.each(silent)('on %s', (_name, sketch) => {
    const { findings, tally } = judgeSite(sketch);
    expect(findings).toEqual([]);
    expect(tally.met).toBeGreaterThan(3);
  });

  it('is broken by strict for what only the owner vouches for', () => {
    const sketch: PlottingSketch = {
      nodes: { 'quay-sw': { unread: 'switch', frameBytes: 9216 } },
      readings: { 'quay-sw': { ports: {} } },
    };
    const subjects = subjectsOf(plottingSite(sketch));
    const { tally, findings } = judge(subjects, policies, {
      waivers: [],
      now: '2026-11-25',
      strict: true,
    });
    expect(tally.broken).toBe(0);
    expect(findings.map(({ rule, verdict }) => `${rule} ${verdict}`)).toContain(
      'path-clearance undetermined',
    );
  });
});

it('tells what waits for two silent nodes under the first of them', () => {
  const { findings } = judgeSite({ readings: { 'plot-1': gone, vault: gone } });
  const told = findings.filter(({ severity }) => severity !== 'notice');
  expect([...new Set(told.map(({ cause }) => cause))].sort()).toEqual([
    'node plot-1',
    'node vault',
  ]);
});
