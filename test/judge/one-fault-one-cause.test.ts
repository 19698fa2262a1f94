import { describe, expect, it } from 'vitest';
import type { NodeReadFacts } from '../../src/facts/node-facts.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Trouble } from '../../src/facts/trouble.ts';
import { judge } from '../../src/judge/judge.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import type { LinkSketch } from '../site/builders.ts';
import { type PlottingSketch, plottingSite } from '../site/plotting-site.ts';
import { loadShipped } from './shipped.ts';

const policies = await loadShipped('essential', 'jumbo', 'cabling', 'signal');

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

const modes = (...speeds: readonly number[]) => speeds.map((speed) => `${speed}baseT/Full`);
const all = modes(100, 1000, 10_000);
const offersAll = { supportedModes: all, advertisedModes: all, partnerModes: all };
const gigabit = { speedMbps: 1000 } as const;
const healthyRun = [
  { kind: 'cord', category: 'cat6a', lengthMetres: 2, text: 'cord cat6a 2 m' },
  { kind: 'wall', category: 'cat6a', lengthMetres: 21, text: 'wall cat6a 21 m' },
] as const;
const oldCord = {
  kind: 'cord',
  category: 'cat5e',
  lengthMetres: 5,
  text: 'cord cat5e 5 m',
} as const;
const sr = { kind: 'module', moduleType: '10GBASE-SR', text: 'module 10GBASE-SR' } as const;
const lr = { kind: 'module', moduleType: '10GBASE-LR', text: 'module 10GBASE-LR' } as const;
const om3 = { kind: 'fibre', category: 'om3', lengthMetres: 40, text: 'fibre om3 40 m' } as const;

/** Ports at 100 Mb/s carry no more at many switches. */
const at1500 = { mtuBytes: 1500 } as const;

/** The desk's link with this run; the server's with none. */
function deskRun(run: NonNullable<LinkSketch['run']>): Pick<PlottingSketch, 'intent'> {
  const link = { untagged: 'storage', speedMbps: 10_000 };
  return {
    intent: {
      links: { 'plot-1:desk - quay-sw:xg2': { ...link, run }, 'quay-sw:xg3 - vault:eth4': link },
    },
  };
}

/** The server with these facts of its own and of its port. */
function serverReading(facts: NodeReadFacts, more: PortReadFacts) {
  const eth4 = { mtuBytes: 9000, addresses: ['198.18.20.2/24'], ...more };
  return { facts, ports: { eth4 }, routes: { '198.18.20.1': 'eth4' } };
}

/** The server's port with these facts, on a node that has been up for ten days. */
function serverPort(facts: PortReadFacts): PlottingSketch {
  const eth4 = { mtuBytes: 9000, addresses: ['198.18.20.2/24'], ...facts };
  const uptimeSeconds = 864_000;
  return {
    readings: {
      vault: { facts: { uptimeSeconds }, ports: { eth4 }, routes: { '198.18.20.1': 'eth4' } },
    },
  };
}

const light = { rxPowerLowDbm: -9.9, rxPowerHighDbm: -1, phyText: '10GBASE-SR' } as const;
// More than packets of 1500 bytes carry at 10 Gb/s, less than those of 9000 do (RFC 6349 4.1.1).
const wanting: PlottingSketch = {
  intent: {
    paths: { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'], goodputMbps: 9500 } },
  },
};
// 10 Gb/s for about a quarter of an hour.
const traffic = {
  phyText: '10GBASE-T',
  rxFrames: 800_000_000,
  rxOctets: 1_200_000_000_000,
} as const;

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
    'a driver at 1500 under an IP MTU of 9000',
    { eth4: { driverMtuBytes: 1500 } },
    'mtu vault:eth4',
    ['driver-allows-packet vault:eth4'],
  ],
  [
    'a driver at 1500, which IP follows',
    { eth4: { driverMtuBytes: 1500, mtuBytes: 1500 } },
    'mtu vault:eth4',
    [
      'driver-allows-packet vault:eth4',
      'segment-agrees storage',
      'path-clearance plotting',
      'port-clearance vault:eth4',
    ],
  ],
  [
    'a system older than declared',
    {
      nodes: { vault: { osAtLeast: '14.5' } },
      readings: { vault: serverReading({ osVersion: '14.4.1' }, {}) },
    },
    'os-recent-enough vault',
    ['os-recent-enough vault'],
  ],
  [
    'a driver older than declared',
    {
      nodes: { vault: { ports: { eth4: { driverAtLeast: '3.1' } } } },
      readings: { vault: serverReading({}, { driverVersion: '3.0.9' }) },
    },
    'driver-recent-enough vault:eth4',
    ['driver-recent-enough vault:eth4'],
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
    'a link at a tenth, where more is wanted of the path',
    { ...wanting, desk: { speedMbps: 1000 }, xg2: { speedMbps: 1000 } },
    deskLink,
    ['goodput-in-reach plotting', 'speed-as-declared plot-1:desk', 'speed-as-declared quay-sw:xg2'],
  ],
  [
    'a server at 1500, where more is wanted than packets of 1500 bytes carry',
    { ...wanting, eth4: { mtuBytes: 1500 } },
    'mtu vault:eth4',
    [
      'goodput-in-reach plotting',
      'segment-agrees storage',
      'path-clearance plotting',
      'port-clearance vault:eth4',
    ],
  ],
  [
    'a duplex mismatch',
    {
      ...at1500,
      desk: { mtuBytes: 1500, speedMbps: 100, duplex: 'half' },
      xg2: { speedMbps: 100 },
      link: { untagged: 'storage', speedMbps: 100 },
      eth4: { mtuBytes: 1500, speedMbps: 100 },
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
    'a port that has another name since an update, and the route by it',
    {
      readings: {
        vault: {
          ports: { enp4s0: { mtuBytes: 9000, addresses: ['198.18.20.2/24'] } },
          routes: { '198.18.20.1': 'enp4s0' },
        },
      },
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
  [
    'an old cord in the run, which makes it a gigabit',
    { ...deskRun([...healthyRun, oldCord]), desk: { ...gigabit, ...offersAll }, xg2: gigabit },
    deskLink,
    [
      'run-carries-speed plot-1:desk - quay-sw:xg2',
      'speed-as-declared plot-1:desk',
      'speed-as-declared quay-sw:xg2',
    ],
  ],
  [
    'a broken pair in a run that is good for more',
    {
      ...deskRun(healthyRun),
      desk: { speedMbps: 100, ...offersAll },
      xg2: { speedMbps: 100 },
    },
    deskLink,
    [
      'cable-carries-offer plot-1:desk - quay-sw:xg2',
      'fast-enough-for-large quay-sw:xg2',
      'speed-as-declared plot-1:desk',
      'speed-as-declared quay-sw:xg2',
    ],
  ],
  [
    'a switch port that is set to offer a gigabit',
    {
      desk: { ...gigabit, ...offersAll, partnerModes: modes(100, 1000) },
      xg2: {
        ...gigabit,
        supportedModes: all,
        advertisedModes: modes(100, 1000),
        partnerModes: all,
      },
    },
    deskLink,
    [
      'setting-allows-speed plot-1:desk - quay-sw:xg2',
      'speed-as-declared plot-1:desk',
      'speed-as-declared quay-sw:xg2',
    ],
  ],
  [
    'an adapter that can a gigabit',
    {
      desk: { ...gigabit, supportedModes: modes(100, 1000), advertisedModes: modes(100, 1000) },
      xg2: gigabit,
    },
    deskLink,
    [
      'ends-capable plot-1:desk - quay-sw:xg2',
      'speed-as-declared plot-1:desk',
      'speed-as-declared quay-sw:xg2',
    ],
  ],
  [
    'modules that do not work together',
    { ...deskRun([sr, om3, lr]), desk: { operUp: false }, xg2: { operUp: false } },
    deskLink,
    ['modules-agree plot-1:desk - quay-sw:xg2', 'port-up plot-1:desk', 'port-up quay-sw:xg2'],
  ],
  [
    'more errors than the PHY may make',
    serverPort({ ...traffic, rxCrcErrors: 4000 }),
    vaultLink,
    ['errors-within-limit vault:eth4'],
  ],
  [
    'too little light',
    { ...deskRun([sr, om3, sr]), desk: { ...light, rxPowerDbm: -13.1 } },
    deskLink,
    ['light-within-limits plot-1:desk'],
  ],
  [
    'a link that comes and goes',
    serverPort({ carrierChanges: 90, eeeActive: true }),
    vaultLink,
    ['stays-up vault:eth4'],
  ],
  [
    'one end that negotiates with nobody',
    {
      ...at1500,
      link: { untagged: 'storage', speedMbps: 100 },
      desk: {
        mtuBytes: 1500,
        speedMbps: 100,
        duplex: 'half',
        autoNegotiation: true,
        partnerAutoNegotiation: false,
      },
      xg2: { speedMbps: 100 },
      eth4: { mtuBytes: 1500, speedMbps: 100 },
      xg3: { speedMbps: 100 },
    },
    deskLink,
    [
      'duplex-full plot-1:desk',
      'ends-same-duplex plot-1:desk - quay-sw:xg2',
      'partner-negotiates plot-1:desk',
    ],
  ],
  [
    'one lane for ten gigabits',
    { eth4: { busText: 'PCIe 8.0 GT/s x1' } },
    'bus of vault:eth4',
    ['bus-feeds-port vault:eth4'],
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

describe('an adapter under another name', () => {
  const mac = '02:00:5e:00:00:04';
  const site = (name: string): PlottingSketch => ({
    nodes: { vault: { ports: { storage: { name, mac } } } },
    intent: {
      links: {
        'plot-1:desk - quay-sw:xg2': { untagged: 'storage' },
        'quay-sw:xg3 - vault:storage': { untagged: 'storage' },
      },
    },
    readings: { vault: serverReading({}, { macAddress: mac }) },
  });

  it('is one notice, and nothing else', () => {
    const { findings } = judgeSite(site('enp3s0'));
    expect(findings.map(({ rule, severity, cause }) => [rule, severity, cause])).toEqual([
      ['port-keeps-name', 'notice', 'name of port vault:storage'],
    ]);
  });

  it('is silent under the declared one', () => {
    expect(judgeSite(site('eth4')).findings).toEqual([]);
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
  [
    'a run that carries its speed, with all lists of modes',
    { ...deskRun(healthyRun), desk: offersAll, xg2: offersAll },
  ],
  ['ports that can more than is declared', { desk: { supportedModes: modes(1000, 25_000) } }],
  [
    'a gigabit as declared between ports that can more',
    {
      link: { untagged: 'storage', speedMbps: 1000 },
      desk: { ...gigabit, ...offersAll, advertisedModes: modes(1000), partnerModes: all },
      xg2: gigabit,
      xg3: gigabit,
      eth4: gigabit,
    },
  ],
  ['a driver set to more than is declared', { eth4: { driverMtuBytes: 16_334 } }],
  [
    'the versions that are declared',
    {
      nodes: { vault: { osAtLeast: '14.5', ports: { eth4: { driverAtLeast: '3.1' } } } },
      readings: { vault: serverReading({ osVersion: '14.5.0' }, { driverVersion: '3.1' }) },
    },
  ],
  ['modules of one kind on their fibre', deskRun([sr, om3, sr])],
  ['three errors in a terabyte', serverPort({ ...traffic, rxCrcErrors: 3 })],
  ['light within limits', { ...deskRun([sr, om3, sr]), desk: { ...light, rxPowerDbm: -5 } }],
  [
    'a copper cable that measures no light',
    { ...deskRun([{ kind: 'direct-attach', lengthMetres: 3 }]), desk: { rxPowerDbm: -40 } },
  ],
  ['energy saving on a link that stays up', serverPort({ carrierChanges: 4, eeeActive: true })],
  ['four lanes for ten gigabits', { eth4: { busText: 'PCIe 8.0 GT/s x4' } }],
  [
    'the changes of a link to a laptop that sleeps',
    {
      nodes: { 'plot-1': { sleeps: true } },
      readings: {
        'quay-sw': {
          facts: { uptimeSeconds: 864_000 },
          ports: {
            xg2: { mtuBytes: 9216, carrierChanges: 900 },
            xg3: { mtuBytes: 9216, carrierChanges: 2 },
          },
        },
      },
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

describe('cabling without a survey', () => {
  const judgeIntent = (run: NonNullable<LinkSketch['run']>) => {
    const { intent } = plottingSite(deskRun(run));
    const cabling = policies.filter(({ policy }) => policy === 'cabling');
    return judge(subjectsOf(buildSite(intent, undefined, { strict: false })), cabling, {
      waivers: [],
      now: '2026-11-25',
    });
  };

  it.each([
    ['a run that fits', healthyRun, []],
    ['an old cord', [...healthyRun, oldCord], ['run-carries-speed broken']],
    [
      'category 6 over a length that may carry it',
      [{ kind: 'wall', category: 'cat6', lengthMetres: 50, text: 'wall cat6 50 m' }],
      ['run-carries-speed undetermined'],
    ],
    ['modules of two kinds', [sr, om3, lr], ['modules-agree broken']],
    ['no run', [], []],
  ] as const)('judges the intent alone: %s', (_name, run, told) => {
    const { findings } = judgeIntent(run);
    expect(findings.map(({ rule, verdict }) => `${rule} ${verdict}`)).toEqual(told);
    for (const { cause, subject } of findings) {
      expect(subject.id).toBe('plot-1:desk - quay-sw:xg2');
      expect(cause).toBe(deskLink);
    }
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
