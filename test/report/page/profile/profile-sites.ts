import type { PortReadFacts } from '../../../../src/facts/port-facts.ts';
import type { RunPiece } from '../../../../src/intent/types.ts';
import { buildSite } from '../../../../src/site/build-site.ts';
import type { Site } from '../../../../src/site/types.ts';
import {
  type IntentSketch,
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
} from '../../../site/builders.ts';
import { harbourSite } from '../../../site/harbour-site.ts';
import { plottingSite } from '../../../site/plotting-site.ts';

/** Sites with a path each, one for everything that a clearance drawing must be able to show. */

type Piece = Partial<RunPiece> & Pick<RunPiece, 'kind'>;
const run: readonly Piece[] = [
  { kind: 'cord', category: 'cat6a', lengthMetres: 2, text: 'cord cat6a 2 m' },
  { kind: 'jack', label: 'W-07', text: 'jack W-07' },
  { kind: 'wall', category: 'cat6a', lengthMetres: 21, text: 'wall cat6a 21 m' },
  { kind: 'panel', label: 'B/12', text: 'panel B/12' },
  { kind: 'cord', category: 'cat6', lengthMetres: 2, text: 'cord cat6 2 m' },
  { kind: 'module', moduleType: '10GBASE-T', text: 'module 10GBASE-T' },
];
const link = { untagged: 'storage', speedMbps: 10_000, run } satisfies LinkSketch;
const denied = {
  reason: 'denied',
  words: 'noAccess: the view of this user leaves the table out',
} as const;
const big: PortReadFacts = { mtuBytes: 9216, spanningTree: 'forwarding' };
const paths = { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'] } };
const counted = { mtuCounts: { port: 'payload' } } as const;

function joined(intent: IntentSketch, readings: Readonly<Record<string, NodeReadingSketch>>): Site {
  return buildSite(
    makeIntent({ segments: { storage: { vlan: 20, mtuBytes: 9000 } }, paths, ...intent }),
    makeSurvey(readings),
    { strict: false },
  );
}

const ends = {
  'plot-1': {
    ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } },
    routes: { '198.18.20.2': 'desk' },
  },
  vault: {
    ports: { eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'] } },
    routes: { '198.18.20.1': 'eth4' },
  },
} as const;

/** Six switches in a row between the ends: fourteen hops, with names of thirty characters. */
function longRow(): Site {
  const names = Array.from({ length: 5 }, (_, at) =>
    `quay-hall-${at + 1}-distribution-row-sw`.padEnd(30, 'w'),
  );
  const hops = [
    'plot-1:desk',
    ...names.flatMap((name) => [`${name}:ten-gigabit-1/0/47-uplink-north`, `${name}:xg2`]),
    'vault:eth4',
  ];
  const links = Object.fromEntries(
    Array.from({ length: hops.length / 2 }, (_, at) => [
      `${hops[2 * at]} - ${hops[2 * at + 1]}`,
      link,
    ]),
  );
  const nodes = Object.fromEntries(
    names.map((name) => [name, { role: 'switch', ...counted } as const]),
  );
  const switches = Object.fromEntries(
    names.map((name, at) => [
      name,
      {
        ports: {
          'ten-gigabit-1/0/47-uplink-north': big,
          xg2: at === 3 ? { ...big, mtuBytes: 2000 } : big,
        },
      },
    ]),
  );
  return joined({ nodes: { 'plot-1': {}, vault: {}, ...nodes }, links }, { ...ends, ...switches });
}

/** Three switches in a ring, one cord of it blocked. */
function ring(blocked: PortReadFacts['spanningTree']): Site {
  const nodes = {
    'plot-1': {},
    'quay-sw': counted,
    'loft-sw': counted,
    'shed-sw': counted,
    vault: {},
  };
  return joined(
    {
      nodes,
      links: {
        'plot-1:desk - quay-sw:xg2': link,
        'quay-sw:xg8 - loft-sw:xg1': { ...link, run: [] },
        'quay-sw:xg9 - shed-sw:xg1': {
          ...link,
          run: [{ kind: 'fibre', category: 'om3', lengthMetres: 120, text: 'fibre om3 120 m' }],
        },
        'shed-sw:xg2 - loft-sw:xg2': {
          ...link,
          run: [{ kind: 'fibre', category: 'om3', text: 'fibre om3' }],
        },
        'loft-sw:xg3 - vault:eth4': link,
      },
    },
    {
      ...ends,
      'quay-sw': { ports: { xg2: big, xg8: big, xg9: big } },
      'loft-sw': {
        ports: {
          xg1: big,
          xg2: { ...big, ...(blocked === undefined ? {} : { spanningTree: blocked }) },
          xg3: big,
        },
      },
      'shed-sw': { ports: { xg1: { ...big, mtuBytes: 1500 }, xg2: big } },
    },
  );
}

/** A router between two segments. */
function routed(): Site {
  const storage = { untagged: 'storage', speedMbps: 10_000, run } satisfies LinkSketch;
  return joined(
    {
      nodes: { 'plot-1': {}, 'quay-sw': counted, gate: { routes: true }, vault: {} },
      segments: { office: { vlan: 1, mtuBytes: 9000 }, storage: { vlan: 20, mtuBytes: 9000 } },
      links: {
        'plot-1:desk - quay-sw:xg2': { ...storage, untagged: 'office' },
        'quay-sw:xg7 - gate:em0': { ...storage, untagged: 'office' },
        'gate:em1 - vault:eth4': storage,
      },
      paths: { plotting: { from: ['plot-1'], to: ['vault'], over: ['office', 'storage'] } },
    },
    {
      ...ends,
      'quay-sw': { ports: { xg2: big, xg7: big } },
      gate: {
        ports: {
          em0: { mtuBytes: 9000, addresses: ['198.18.1.1/24'] },
          em1: { mtuBytes: 1500, addresses: ['198.18.20.9/24'] },
        },
      },
    },
  );
}

const tabled = { link, nodes: { 'quay-sw': counted } };

/** By what each shows. */
export const profileSites = {
  allMet: plottingSite(tabled),
  strike: plottingSite({ ...tabled, xg3: { mtuBytes: 1500 } }),
  nearly: plottingSite({ ...tabled, xg3: { mtuBytes: 8996 }, eth4: { mtuBytes: 8996 } }),
  unread: plottingSite({
    ...tabled,
    readings: {
      'quay-sw': {
        ports: { xg2: big, xg3: {} },
        portOwnGaps: { xg3: { mtuBytes: denied, speedMbps: denied } },
      },
    },
  }),
  silent: plottingSite({
    ...tabled,
    readings: {
      'quay-sw': {
        trouble: {
          kind: 'no-answer',
          seen: 'no answer from 198.18.20.2 port 161 within 6 s',
          remedy: 'look whether it has power',
        },
      },
    },
  }),
  range: plottingSite({ link, xg2: { mtuBytes: 9010 }, xg3: { mtuBytes: 9010 } }),
  down: plottingSite({ ...tabled, desk: { operUp: false }, xg2: { operUp: false } }),
  halfDuplex: plottingSite({
    ...tabled,
    desk: { speedMbps: 100, duplex: 'half' },
    xg2: { speedMbps: 100, duplex: 'half' },
  }),
  onWord: plottingSite({
    link,
    nodes: { 'quay-sw': { unread: 'switch', frameBytes: 9216 } },
  }),
  noMtu: joined(
    {
      segments: { storage: { vlan: 20 } },
      nodes: { 'plot-1': {}, 'quay-sw': {}, vault: {} },
      links: { 'plot-1:desk - quay-sw:xg2': link, 'quay-sw:xg3 - vault:eth4': link },
    },
    { ...ends, 'quay-sw': { ports: { xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } } } },
  ),
  undeclared: joined(
    {
      nodes: { 'plot-1': {}, vault: {} },
      paths: { plotting: { from: ['plot-1'], to: ['vault'], mtuBytes: 9000 } },
    },
    ends,
  ),
  nothing: joined(
    {
      nodes: { 'plot-1': {}, vault: {} },
      paths: { plotting: { from: ['plot-1'], to: ['vault'], mtuBytes: 9000 } },
    },
    {},
  ),
  aggregate: harbourSite(),
  leftOut: harbourSite({ ports: { 'vault:eth5': { lacpActor: ['activity', 'defaulted'] } } }),
  blocked: ring('blocking'),
  ring: ring(undefined),
  routed: routed(),
  longRow: longRow(),
} as const satisfies Readonly<Record<string, Site>>;
