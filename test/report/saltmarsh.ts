import type { Gap } from '../../src/facts/gap.ts';
import type { Finding } from '../../src/judge/types.ts';
import type { AuditResult } from '../../src/report/types.ts';
import type { SitePath } from '../../src/site/types.ts';
import { at, type HopSketch, hop, type NodeSketch, path, piece, sample } from './samples.ts';

/** The Saltmarsh office in the states that a report must be able to say. */

const deskLink = 'plot-1:desk - quay-sw:xg2';
const vaultLink = 'vault:eth4 - quay-sw:xg3';
const spareLink = 'vault:eth5 - quay-sw:Port 4';
const deskRun = [
  piece('cord', 'cord cat6a 2 m'),
  piece('jack', 'jack W-07', 'W-07'),
  piece('wall', 'wall cat6a 21 m'),
  piece('panel', 'panel B/12', 'B/12'),
  piece('cord', 'cord cat6 2 m field-terminated'),
  piece('module', 'module 10GBASE-T'),
];
const ten = { speed: 10_000, duplex: 'full' };
const frames = { source: 'IF-MIB ifMtu', facts: { mtuBytes: 9216 } };

const desk: HopSketch = {
  port: 'plot-1:desk',
  least: 9000,
  most: 9000,
  ...ten,
  distance: 0,
  link: deskLink,
  run: deskRun,
};
const xg2: HopSketch = {
  port: 'quay-sw:xg2',
  least: 9198,
  most: 9198,
  ...ten,
  ...frames,
  distance: 1,
  link: deskLink,
};
const xg3: HopSketch = {
  ...xg2,
  port: 'quay-sw:xg3',
  link: vaultLink,
  run: [piece('direct-attach', 'direct-attach 3 m')],
};
const eth4: HopSketch = {
  port: 'vault:eth4',
  least: 9000,
  most: 9000,
  ...ten,
  distance: 2,
  link: vaultLink,
};
const nodes: readonly NodeSketch[] = [
  { name: 'plot-1' },
  { name: 'quay-sw', role: 'switch', mtuCounts: { port: 'header-fcs' } },
  { name: 'vault' },
];
const clear = {
  carriesDeclaredMtu: true,
  mtuAtLeastBytes: 9000,
  mtuAtMostBytes: 9000,
  ceilingMbps: 9900.4,
};

function plotting(hops: readonly HopSketch[], facts: SitePath['subject']['facts']): SitePath {
  return path('plotting', hops.map(hop), facts);
}

const smallFinding: Finding = {
  id: '1f0c2d3e4b',
  policy: 'jumbo',
  rule: 'path-clearance',
  severity: 'error',
  verdict: 'broken',
  subject: { kind: 'path', id: 'plotting' },
  cause: 'port quay-sw:xg3',
  what: 'plotting: carries at most 1500 of the declared 9000 bytes; quay-sw:xg3 is the narrowest hop',
  evidence: [
    { fact: 'path.narrowestPort', value: 'quay-sw:xg3', source: 'port.passesAtMostBytes' },
    { fact: 'path.mtuAtMostBytes', value: 1500, unit: 'bytes', source: 'every hop' },
    { fact: 'path.declaredMtuBytes', value: 9000, unit: 'bytes' },
  ],
  advice: 'raise quay-sw:xg3, switches before hosts; or declare 1500: at 10 Gb/s the gain is 5 %',
  declaredAt: at(31),
  source: 'RFC 1191',
};
const smallPortFinding: Finding = {
  ...smallFinding,
  id: '2a0c2d3e4b',
  rule: 'port-carries-mtu',
  subject: { kind: 'port', id: 'quay-sw:xg3' },
  what: 'the declared 9000 bytes do not pass',
};

const smallHop = {
  least: 1482,
  most: 1500,
  facts: { mtuBytes: 1500 },
  narrowest: true,
} as const;

export const healthy: AuditResult = sample({
  nodes,
  paths: [plotting([desk, xg2, xg3, eth4], clear)],
});

export const middleSmall: AuditResult = sample({
  nodes,
  paths: [
    plotting([desk, xg2, { ...xg3, ...smallHop, least: 1500 }, eth4], {
      carriesDeclaredMtu: false,
      mtuAtLeastBytes: 1500,
      mtuAtMostBytes: 1500,
      narrowestPort: 'quay-sw:xg3',
      effects: 'Both ways: transfers stall while small packets pass',
    }),
  ],
  findings: [smallFinding, smallPortFinding],
  met: 18,
});

export const endSmallAndSlow: AuditResult = sample({
  nodes,
  paths: [
    plotting(
      [
        { ...desk, speed: 1000, slowest: true, facts: { declaredSpeedMbps: 10_000 } },
        { ...xg2, speed: 1000, slowest: true, facts: { declaredSpeedMbps: 10_000 } },
        xg3,
        { ...eth4, least: 1500, most: 1500, narrowest: true },
      ],
      {
        carriesDeclaredMtu: false,
        mtuAtMostBytes: 1500,
        narrowestPort: 'vault:eth4',
        effects:
          'plot-1 to vault: TCP agrees on 1500 bytes; larger UDP and ICMP packets are lost. vault to plot-1: TCP agrees on 1500 bytes; nothing else is lost',
      },
    ),
  ],
  findings: [
    {
      ...smallFinding,
      cause: 'port vault:eth4',
      what: 'carries at most 1500 of the declared 9000 bytes; vault:eth4 is the narrowest hop',
      evidence: [{ fact: 'path.narrowestPort', value: 'vault:eth4' }],
      advice: 'raise vault:eth4 after the switches',
    },
    {
      ...smallFinding,
      id: '3b0c2d3e4b',
      policy: 'essential',
      rule: 'link-speed',
      severity: 'warning',
      subject: { kind: 'port', id: 'plot-1:desk' },
      cause: 'link plot-1:desk - quay-sw:xg2',
      what: 'runs at 1000 of the declared 10000 Mb/s',
      evidence: [
        { fact: 'port.speedMbps', value: 1000, unit: 'Mb/s', source: 'ifconfig media' },
        { fact: 'port.declaredSpeedMbps', value: 10_000, unit: 'Mb/s' },
      ],
      advice: 'look at jack W-07 and panel B/12',
      declaredAt: at(24),
      source: 'IEEE 802.3 clause 28',
    },
  ],
  met: 14,
});

const gone: Gap = { reason: 'unreachable', words: 'no answer', cause: 'node quay-sw' };

export const deadSwitch: AuditResult = sample({
  nodes: nodes.map((node) =>
    node.name === 'quay-sw'
      ? {
          ...node,
          trouble: {
            seen: 'no answer from 198.18.20.2 port 161 within 6 s',
            remedy: 'look whether the switch has power, and whether its access list lets us in',
          },
        }
      : node,
  ),
  paths: [
    plotting(
      [
        desk,
        { port: 'quay-sw:xg2', gap: gone, distance: 1, link: deskLink },
        { port: 'quay-sw:xg3', gap: gone, distance: 1, link: vaultLink, run: xg3.run ?? [] },
        eth4,
      ],
      { mtuAtMostBytes: 9000, hopsUnknown: ['quay-sw:xg2', 'quay-sw:xg3'] },
    ),
  ],
  findings: [
    {
      ...smallFinding,
      id: '4c0c2d3e4b',
      rule: 'node-read',
      policy: 'essential',
      severity: 'error',
      verdict: 'undetermined',
      subject: { kind: 'node', id: 'quay-sw' },
      cause: 'node quay-sw',
      what: 'quay-sw could not be read',
      evidence: [{ fact: 'node.read', gap: gone }],
    },
    { ...smallFinding, verdict: 'undetermined', cause: 'node quay-sw' },
    { ...smallPortFinding, verdict: 'undetermined', cause: 'node quay-sw' },
  ],
  met: 9,
});

export const doubtful: AuditResult = sample({
  nodes: [{ name: 'plot-1' }, { name: 'quay-sw', role: 'switch' }, { name: 'vault' }],
  paths: [
    plotting(
      [
        desk,
        { ...xg2, least: 8978, most: 9000, facts: { mtuBytes: 9000 } },
        {
          port: 'quay-sw:xg3',
          gap: { reason: 'doubtful', words: 'all 12 physical ports say 1500' },
          distance: 1,
          link: vaultLink,
          ...ten,
        },
        eth4,
      ],
      { mtuAtMostBytes: 9000, hopsUnknown: ['quay-sw:xg3'] },
    ),
  ],
  findings: [
    {
      ...smallFinding,
      verdict: 'undetermined',
      severity: 'warning',
      cause: 'plotting',
      what: 'whether 9000 bytes pass is not known',
      evidence: [
        {
          fact: 'path.carriesDeclaredMtu',
          gap: { reason: 'doubtful', words: 'all 12 physical ports of quay-sw say 1500' },
        },
      ],
      advice: 'say what quay-sw counts (mtuCounts), or measure: hopgauge fit plot-1 vault',
    },
  ],
  met: 11,
});

const aggregate = (second: Partial<HopSketch> = {}, first: Partial<HopSketch> = {}) => [
  desk,
  xg2,
  { ...xg3, ...first },
  { ...eth4, ...first },
  { ...xg3, port: 'quay-sw:Port 4', link: spareLink, ...second },
  { ...eth4, port: 'vault:eth5', link: spareLink, ...second },
];

export const aggregated: AuditResult = sample({
  nodes,
  links: [{ id: deskLink }, { id: vaultLink, lag: 'vault-up' }, { id: spareLink, lag: 'vault-up' }],
  paths: [
    plotting(
      [...aggregate(), { port: 'vault:bond0', least: 9000, most: 9000, distance: 2, layer: true }],
      clear,
    ),
  ],
});

export const alternatives: AuditResult = sample({
  nodes,
  links: [{ id: deskLink }, { id: vaultLink }, { id: spareLink }],
  paths: [plotting(aggregate({ inUse: false }, { inUse: true }), clear)],
});

export const onWord: AuditResult = sample({
  nodes: [...nodes, { name: 'loft-sw', unread: 'switch', role: 'switch' }],
  paths: [
    plotting(
      [
        { ...desk, link: 'a' },
        { port: 'loft-sw:1', least: 9198, most: 9198, onWord: true, distance: 1, link: 'a' },
        { port: 'loft-sw:8', least: 9198, most: 9198, onWord: true, distance: 1, link: 'b' },
        { ...eth4, link: 'b' },
      ],
      clear,
    ),
  ],
});

export const endsOnly: AuditResult = sample({
  nodes: [{ name: 'plot-1' }, { name: 'vault' }],
  paths: [
    plotting(
      [
        { port: 'plot-1:en7', least: 9000, most: 9000, ...ten, distance: 0 },
        { port: 'vault:eth4', least: 9000, most: 9000, ...ten, distance: 1 },
      ],
      clear,
    ),
  ],
});

export const wide: AuditResult = sample({
  nodes: [{ name: '製図室' }, { name: 'tårn' }],
  paths: [
    path(
      '図面',
      [
        { port: '製図室:en7', least: 9000, most: 9000, ...ten, distance: 0, link: 'a' },
        { port: 'tårn:eth4', least: 1500, most: 1500, ...ten, distance: 1, narrowest: true },
      ].map((sketch) =>
        hop({ ...sketch, link: 'a', run: [piece('panel', 'panel 東棚/１２', '東棚/１２')] }),
      ),
      { carriesDeclaredMtu: false, mtuAtMostBytes: 1500, narrowestPort: 'tårn:eth4' },
    ),
  ],
});

export const samples = {
  healthy,
  middleSmall,
  endSmallAndSlow,
  deadSwitch,
  doubtful,
  aggregated,
  alternatives,
  onWord,
  endsOnly,
  wide,
} as const;
