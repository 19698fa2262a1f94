import type { DraftSubject } from '../../src/draft/types.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { NeighbourReading, NodeSurvey } from '../../src/facts/survey.ts';
import type { Access } from '../../src/intent/types.ts';

export const ssh: Access = { via: 'ssh', name: 'ssh' };
export const agent: Access = {
  via: 'snmp',
  name: 'switches',
  version: '3',
  user: 'auditor',
  auth: 'sha256',
  privacy: 'aes128',
  secret: { auth: 'HOPGAUGE_AUTH', privacy: 'HOPGAUGE_PRIVACY' },
};

export interface MachineSketch {
  readonly name: string;
  readonly ports: Readonly<Record<string, PortReadFacts>>;
  readonly by?: Access;
  readonly more?: Partial<NodeSurvey>;
}

/** A machine that was read at an address made of its name. */
export function subject({ name, ports, by = ssh, more = {} }: MachineSketch): DraftSubject {
  return {
    at: `${name}.office.example`,
    access: [by],
    survey: {
      node: `${name}.office.example`,
      readings: [
        {
          by: by.via === 'snmp' ? 'snmp' : 'ssh',
          at: `${name}.office.example`,
          startedAt: '2026-11-25T02:00:00.000Z',
          tookMs: 9,
        },
      ],
      facts: { systemName: name },
      sources: {},
      gaps: {},
      portSources: {
        supportedModes:
          by.via === 'snmp' ? 'MAU-MIB ifMauAutoNegCapabilityBits' : 'ethtool Supported link modes',
      },
      portGaps: {},
      ports: Object.entries(ports).map(([port, facts]) => ({ name: port, facts })),
      routes: [],
      sessions: [],
      mounts: [],
      disagreements: [],
      ...more,
    },
  };
}

export const modes10G = ['10000baseT/Full', '1000baseT/Full', '100baseT/Full'];

/** A port of a host at 10 Gb/s, with one address. */
export function hostPort(last: number, more: PortReadFacts = {}): PortReadFacts {
  return {
    kind: 'physical',
    macAddress: `02:00:5e:00:00:${String(last).padStart(2, '0')}`,
    mtuBytes: 9000,
    speedMbps: 10_000,
    duplex: 'full',
    operUp: true,
    supportedModes: modes10G,
    addresses: [`198.18.20.${last}/24`],
    ...more,
  };
}

/** A port of a switch at 10 Gb/s in VLAN 20. */
export function switchPort(more: PortReadFacts = {}): PortReadFacts {
  return {
    kind: 'physical',
    mtuBytes: 9216,
    speedMbps: 10_000,
    duplex: 'full',
    operUp: true,
    supportedModes: modes10G,
    untaggedVlan: 20,
    untaggedVlans: [20],
    taggedVlans: [],
    ...more,
  };
}

/** What `port` hears of a neighbour that says its name and the name of its port. */
export function heard(port: string, systemName: string, portId: string): NeighbourReading {
  return {
    port,
    chassis: systemName,
    chassisKind: 'name',
    portId,
    portIdKind: 'name',
    systemName,
    capabilities: [],
    addresses: [],
  };
}
