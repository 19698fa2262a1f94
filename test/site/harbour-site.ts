import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { ForwardingReading, NeighbourReading, Survey } from '../../src/facts/survey.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import {
  type IntentSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
  type NodeSketch,
} from './builders.ts';

/** MAC addresses of the harbour office, by port. */
export const macs = {
  desk: '02:00:5e:00:00:05',
  eth4: '02:00:5e:00:00:31',
  eth5: '02:00:5e:00:00:32',
  gate: '02:00:5e:00:00:41',
  mill: '02:00:5e:00:00:51',
  labeller: '02:00:5e:00:00:61',
  phone: '02:00:5e:00:00:71',
  bench: '02:00:5e:00:00:72',
  strangers: ['02:00:5e:00:0f:01', '02:00:5e:00:0f:02', '02:00:5e:00:0f:03'],
} as const;

/** A neighbour that announces itself by its name, and its port by its name. */
export function says(
  port: string,
  systemName: string,
  portId: string,
  more: Partial<NeighbourReading> = {},
): NeighbourReading {
  return {
    port,
    chassis: '02:00:5e:00:09:00',
    chassisKind: 'mac',
    portId,
    portIdKind: 'name',
    systemName,
    capabilities: [],
    addresses: [],
    ...more,
  };
}

/** Stations learnt behind a port. */
export function learnt(port: string, ...stations: readonly string[]): ForwardingReading {
  return { port, macs: [...stations].sort() };
}

type Tables = Pick<NodeReadingSketch, 'neighbours' | 'forwarding' | 'gaps'>;

/** What differs from the healthy office. */
export interface HarbourSketch {
  readonly nodes?: Readonly<Record<string, NodeSketch>>;
  /** More of the intent; links take the place of all links. */
  readonly intent?: Partial<IntentSketch>;
  /** What switches and hosts heard, in the place of what they hear when all is well. */
  readonly heard?: Readonly<Record<string, Tables>>;
  /** Facts of ports, by `node:port`, over those when all is well. */
  readonly ports?: Readonly<Record<string, PortReadFacts>>;
  readonly readings?: Readonly<Record<string, NodeReadingSketch>>;
}

const healthyBits = ['activity', 'aggregation', 'synchronization', 'collecting', 'distributing'];
const partner = '02:00:5e:00:0a:01';

function member(mac: string): PortReadFacts {
  return {
    mtuBytes: 9000,
    addresses: [],
    macAddress: macs.eth4,
    permanentMacAddress: mac,
    aggregate: 'bond0',
    aggregatorId: 1,
    lacpActor: healthyBits,
    lacpPartnerSystem: partner,
  };
}

function switched(facts: PortReadFacts = {}): PortReadFacts {
  return {
    mtuBytes: 9216,
    untaggedVlan: 20,
    untaggedVlans: [20],
    taggedVlans: [],
    spanningTree: 'forwarding',
    ...facts,
  };
}

const lagMember = switched({
  aggregate: 'lag1',
  aggregatorId: 1000,
  lacpActor: healthyBits,
  lacpPartnerSystem: macs.eth4,
});
const office = { untaggedVlan: 1, untaggedVlans: [1], speedMbps: 1000 } as const;
const trunk = { untaggedVlan: 1, untaggedVlans: [1], taggedVlans: [20, 30] } as const;

const storage = { untagged: 'storage', speedMbps: 10_000 } as const;
const lag = { ...storage, lag: 'vault-up' } as const;

/** The links of the healthy office. */
export const harbourLinks: NonNullable<IntentSketch['links']> = {
  'plot-1:desk - quay-sw:xg2': storage,
  'vault:eth4 - quay-sw:xg3': lag,
  'vault:eth5 - loft-sw:xg3': lag,
  'quay-sw:xg8 - loft-sw:xg1': { tagged: ['storage'], speedMbps: 10_000 },
  'quay-sw:xg7 - gate:em0': storage,
  'quay-sw:xg6 - mill:eno1': storage,
  'quay-sw:g7 - labeller:lan': { untagged: 'office' },
  'quay-sw:g1 - telephone:lan': { untagged: 'office' },
};

/** What is heard where all is well. */
export const harbourHeard: Readonly<Record<string, Required<Omit<Tables, 'gaps'>>>> = {
  'quay-sw': {
    neighbours: [
      says('xg3', 'vault', macs.eth4, { portIdKind: 'mac', chassis: macs.eth4 }),
      says('xg8', 'loft-sw.office.example', 'xg1', { capabilities: ['bridge'] }),
      says('g1', 'telephone-7', '1', { capabilities: ['bridge', 'telephone'] }),
    ],
    forwarding: [
      learnt('xg2', macs.desk),
      learnt('lag1', macs.eth4),
      learnt('xg6', macs.mill, ...macs.strangers),
      learnt('xg7', macs.gate),
      learnt('g7', macs.labeller),
      learnt('g1', macs.phone, macs.bench),
    ],
  },
  'loft-sw': {
    neighbours: [
      says('xg3', 'vault', macs.eth5, { portIdKind: 'mac', chassis: macs.eth4 }),
      says('xg1', 'quay-sw', 'xg8', { capabilities: ['bridge'] }),
    ],
    forwarding: [learnt('xg1', macs.desk, macs.gate, macs.mill), learnt('lag1', macs.eth4)],
  },
};

const nodes: Readonly<Record<string, NodeSketch>> = {
  'plot-1': {},
  vault: {},
  gate: {},
  mill: {},
  'quay-sw': { ports: { xg6: { behind: 8 } } },
  'loft-sw': {},
  labeller: { unread: 'printer', ports: { lan: { mac: macs.labeller } } },
  telephone: { unread: 'phone' },
};

const ports: Readonly<Record<string, Readonly<Record<string, PortReadFacts>>>> = {
  'plot-1': { desk: { mtuBytes: 9000, macAddress: macs.desk, addresses: ['198.18.20.1/24'] } },
  vault: {
    eth4: member(macs.eth4),
    eth5: member(macs.eth5),
    bond0: {
      kind: 'bond',
      mtuBytes: 9000,
      macAddress: macs.eth4,
      lowerPorts: ['eth4', 'eth5'],
      addresses: ['198.18.20.2/24'],
    },
  },
  gate: { em0: { mtuBytes: 9000, macAddress: macs.gate, addresses: ['198.18.20.3/24'] } },
  mill: { eno1: { mtuBytes: 9000, macAddress: macs.mill, addresses: ['198.18.20.4/24'] } },
  'quay-sw': {
    xg2: switched(),
    xg3: lagMember,
    xg5: { mtuBytes: 9216, operUp: false },
    xg6: switched(),
    xg7: switched(),
    xg8: switched(trunk),
    g1: switched(office),
    g7: switched(office),
    lag1: switched({ kind: 'bond', lowerPorts: ['xg3'], speedMbps: 10_000 }),
  },
  'loft-sw': {
    xg1: switched(trunk),
    xg3: lagMember,
    lag1: switched({ kind: 'bond', lowerPorts: ['xg3'], speedMbps: 10_000 }),
  },
};

const routes: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'plot-1': { '198.18.20.2': 'desk' },
  vault: { '198.18.20.1': 'bond0' },
};

/**
 * An office in good order: an aggregate over two switches, a host with virtual machines, a telephone
 * with a computer behind it, a printer and hosts that do not speak LLDP, and what a test wants
 * otherwise.
 */
export function harbourSite(sketch: HarbourSketch = {}): Site {
  const { intent, survey } = harbourNetwork(sketch);
  return buildSite(makeIntent(intent), survey, { strict: false });
}

/** The same before it is joined. */
export function harbourNetwork(sketch: HarbourSketch = {}): {
  readonly intent: IntentSketch;
  readonly survey: Survey;
} {
  const intent: IntentSketch = {
    segments: { storage: { vlan: 20, mtuBytes: 9000 }, office: { vlan: 1, mtuBytes: 1500 } },
    links: harbourLinks,
    paths: { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'] } },
    ...sketch.intent,
    nodes: { ...nodes, ...sketch.nodes },
  };
  const survey = makeSurvey(
    Object.fromEntries(
      Object.keys({ ...ports, ...sketch.readings }).map((node): [string, NodeReadingSketch] => [
        node,
        {
          facts: { systemName: node },
          ports: portsOf(node, sketch.ports ?? {}),
          routes: routes[node] ?? {},
          ...harbourHeard[node],
          ...sketch.heard?.[node],
          ...sketch.readings?.[node],
        },
      ]),
    ),
  );
  return { intent, survey };
}

function portsOf(node: string, changed: NonNullable<HarbourSketch['ports']>) {
  const own = Object.entries(changed).filter(([id]) => id.startsWith(`${node}:`));
  const more = own.map(([id, facts]): [string, PortReadFacts] => {
    const name = id.slice(node.length + 1);
    return [name, { ...ports[node]?.[name], ...facts }];
  });
  return { ...ports[node], ...Object.fromEntries(more) };
}
