import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import { makeSurvey, type NodeReadingSketch } from '../site/builders.ts';
import type { Described } from './described.ts';

/** What differs from the small Saltmarsh office: a table, a switch and a server at 9000 bytes. */
export interface OfficeChange {
  /** By name, as written in YAML; an empty text takes the node away. */
  readonly nodes?: Readonly<Record<string, string>>;
  /** As written in YAML; they stand in place of the two of the office. */
  readonly links?: readonly string[];
  readonly segments?: string;
  readonly paths?: string;
  readonly readings?: Readonly<Record<string, NodeReadingSketch>>;
  readonly desk?: PortReadFacts;
  readonly xg2?: PortReadFacts;
  readonly xg3?: PortReadFacts;
  readonly eth4?: PortReadFacts;
}

export const deskLine = '{ ends: [plot-1:en7, quay-sw:xg2], untagged: storage, speed: 10G }';
export const vaultLine = '{ ends: [quay-sw:xg3, vault:eth4], untagged: storage, speed: 10G }';

/** The office with what a fault changes; without a change it is healthy. */
export function office(change: OfficeChange = {}): Described {
  const nodes: Readonly<Record<string, string>> = {
    'plot-1': '{ at: plot-1.office.example }',
    vault: '{ at: vault.office.example }',
    'quay-sw': '{ at: quay-sw.office.example, role: switch }',
    ...change.nodes,
  };
  const kept = Object.entries(nodes).filter(([, text]) => text !== '');
  const intent = [
    'intent: 1',
    'nodes:',
    ...kept.map(([name, text]) => `  ${name}: ${text}`),
    `segments: ${change.segments ?? '{ storage: { vlan: 20, mtu: 9000 } }'}`,
    'links:',
    ...(change.links ?? [deskLine, vaultLine]).map((line) => `  - ${line}`),
    `paths: ${change.paths ?? '{ plotting: { from: plot-1, to: vault, over: storage } }'}`,
    '',
  ].join('\n');
  const readings: Readonly<Record<string, NodeReadingSketch>> = {
    'plot-1': {
      facts: { systemKind: 'macos' },
      ports: { en7: { mtuBytes: 9000, addresses: ['198.18.20.1/24'], ...change.desk } },
      routes: { '198.18.20.2': 'en7' },
    },
    'quay-sw': {
      ports: { xg2: { mtuBytes: 9216, ...change.xg2 }, xg3: { mtuBytes: 9216, ...change.xg3 } },
    },
    vault: {
      facts: { systemKind: 'linux' },
      ports: { eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'], ...change.eth4 } },
      routes: { '198.18.20.1': 'eth4' },
    },
    ...change.readings,
  };
  const read = Object.entries(readings).filter(([name]) => nodes[name] !== '');
  return { intent, survey: makeSurvey(Object.fromEntries(read)) };
}

/** The server with these ports, its route to the table by `device`. */
export function vaultPorts(
  device: string,
  ports: Readonly<Record<string, PortReadFacts>>,
  routes: Readonly<Record<string, string>> = {},
): NonNullable<OfficeChange['readings']> {
  const ways = { '198.18.20.1': device, ...routes };
  return { vault: { facts: { systemKind: 'linux' }, ports, routes: ways } };
}

export const held: PortReadFacts = { addresses: ['198.18.20.2/24'] };
export const bare: PortReadFacts = { addresses: [] };
