import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { RunPiece } from '../../src/intent/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import { type Described, intentText } from '../faults/described.ts';
import {
  type IntentSketch,
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
} from '../site/builders.ts';

/** The one link of a small described site, its ends by the names below. */
export interface LinkCase {
  readonly desk?: PortReadFacts;
  readonly port?: PortReadFacts;
  readonly link?: LinkSketch;
  /** What else was read of the host. */
  readonly host?: NodeReadingSketch;
  readonly deskOwnGaps?: NonNullable<NodeReadingSketch['portOwnGaps']>[string];
}

export const deskLink = 'plot-1:en7 - quay-sw:xg2';

/** Modes of a twisted-pair port up to a speed, as `ethtool` spells them. */
export function modesTo(mbps: number): readonly string[] {
  return [
    ...(mbps >= 100 ? ['100baseT/Half', '100baseT/Full'] : []),
    ...[1000, 2500, 5000, 10_000].filter((each) => each <= mbps).map((each) => `${each}baseT/Full`),
  ];
}

/** A port that can and offers everything up to `offers`, and hears `hears`. */
export function lists(can: number, offers = can, hears = offers): PortReadFacts {
  return {
    autoNegotiation: true,
    supportedModes: modesTo(can),
    advertisedModes: modesTo(offers),
    partnerModes: modesTo(hears),
  };
}

/** `cord cat6a 2 m` and its like, as the loader would give it. */
export function cable(
  kind: 'cord' | 'wall' | 'fibre',
  category: NonNullable<RunPiece['category']>,
  lengthMetres: number,
) {
  return { kind, category, lengthMetres, text: `${kind} ${category} ${lengthMetres} m` } as const;
}

export function module(moduleType: string) {
  return { kind: 'module', moduleType, text: `module ${moduleType}` } as const;
}

/** Two days: long enough to speak of losses a day. */
const uptimeSeconds = 172_800;

/** A host on one switch port: a run of Cat6a at a declared 10 Gb/s, unless the case says else. */
export function linkSite(of: LinkCase): Site {
  return join(linkNetwork(of));
}

/** The same as an intent file and a survey. */
export function describedLink(of: LinkCase): Described {
  return describe(linkNetwork(of));
}

interface Network {
  readonly sketch: IntentSketch;
  readonly survey: Survey;
}

function join({ sketch, survey }: Network): Site {
  return buildSite(makeIntent(sketch), survey, { strict: false });
}

function describe({ sketch, survey }: Network): Described {
  return { intent: intentText(sketch), survey };
}

function linkNetwork({ desk, port, link, host, deskOwnGaps }: LinkCase): Network {
  const sketch: IntentSketch = {
    nodes: { 'plot-1': {}, 'quay-sw': {} },
    links: {
      [deskLink]: { speedMbps: 10_000, run: [cable('cord', 'cat6a', 3)], ...link },
    },
  };
  const survey = makeSurvey({
    'plot-1': {
      facts: { systemKind: 'linux', uptimeSeconds },
      portSources: { speedMbps: 'ethtool Speed', partnerModes: 'ethtool' },
      ports: { en7: { ...desk } },
      ...(deskOwnGaps === undefined ? {} : { portOwnGaps: { en7: deskOwnGaps } }),
      ...host,
    },
    'quay-sw': {
      facts: { systemKind: 'snmp', uptimeSeconds },
      portSources: { speedMbps: 'IF-MIB ifHighSpeed' },
      ports: { xg2: { ...port } },
    },
  });
  return { sketch, survey };
}

/** A port without link, as its node tells it. */
export const noLinkAt: PortReadFacts = { operUp: false, linkText: 'no (No cable)' };

/** What a link without signal cannot tell. */
export const downGaps = {
  speedMbps: { reason: 'down', words: 'link down' },
  duplex: { reason: 'down', words: 'link down' },
} as const;

/** A file server on two ports of one aggregate, a workstation beside it, and the path between. */
export interface LagCase {
  readonly eth4?: PortReadFacts;
  readonly eth5?: PortReadFacts;
  readonly eth5OwnGaps?: typeof downGaps;
  readonly xg4?: PortReadFacts;
  readonly xg4OwnGaps?: typeof downGaps;
  readonly lowerPorts?: readonly string[];
  readonly goodputMbps?: number;
  /** Speed of the workstation, declared and run; absent: 10 Gb/s. */
  readonly deskMbps?: number;
  /** Port by which the server answers. */
  readonly answersBy?: string;
  /** Port by which the workstation sends. */
  readonly sendsBy?: string;
}

export function lagSite(of: LagCase): Site {
  return join(lagNetwork(of));
}

/** The same as an intent file and a survey. */
export function describedLag(of: LagCase): Described {
  return describe(lagNetwork(of));
}

function lagNetwork(of: LagCase): Network {
  const storage = { untagged: 'storage', speedMbps: 10_000 };
  const { deskMbps = 10_000 } = of;
  const sketch: IntentSketch = {
    nodes: { 'plot-1': {}, vault: {}, 'quay-sw': {} },
    segments: { storage: {} },
    links: {
      'plot-1:en7 - quay-sw:xg2': { ...storage, speedMbps: deskMbps },
      'vault:eth4 - quay-sw:xg3': { ...storage, lag: 'vault-up' },
      'vault:eth5 - quay-sw:xg4': { ...storage, lag: 'vault-up' },
    },
    paths: {
      plotting: {
        from: ['plot-1'],
        to: ['vault'],
        over: ['storage'],
        ...(of.goodputMbps === undefined ? {} : { goodputMbps: of.goodputMbps }),
      },
    },
  };
  const survey = makeSurvey({
    'plot-1': {
      ports: {
        en7: { speedMbps: deskMbps, addresses: ['198.18.20.11/24'] },
        en0: { speedMbps: 1000, addresses: ['198.18.20.111/24'] },
      },
      routes: { '198.18.20.2': of.sendsBy ?? 'en7' },
    },
    vault: {
      ports: {
        eth4: { addresses: [], ...of.eth4 },
        eth5: { addresses: [], ...of.eth5 },
        eth0: { speedMbps: 1000, addresses: ['198.18.20.102/24'] },
        bond0: {
          kind: 'bond',
          speedMbps: 20_000,
          lowerPorts: of.lowerPorts ?? ['eth4', 'eth5'],
          addresses: ['198.18.20.2/24'],
        },
      },
      ...(of.eth5OwnGaps === undefined ? {} : { portOwnGaps: { eth5: of.eth5OwnGaps } }),
      routes: { '198.18.20.11': of.answersBy ?? 'bond0' },
    },
    'quay-sw': {
      ports: { xg2: { speedMbps: deskMbps }, xg3: { ...of.eth4 }, xg4: { ...(of.xg4 ?? of.eth5) } },
      ...(of.xg4OwnGaps === undefined ? {} : { portOwnGaps: { xg4: of.xg4OwnGaps } }),
    },
  });
  return { sketch, survey };
}
