import type {
  DescribedSwitch,
  DescribedSwitchPort,
} from '../../../mocks/snmp-agent/described-switch.ts';
import type { SnmpTarget } from '../../../src/collect/snmp/target.ts';
import { defaultReadLimits, type ReadLimits, type Secret } from '../../../src/collect/types.ts';

export const secret = (text: string): Secret => ({ reveal: () => text });

/** 100BASE-TX, 1000BASE-T and 10GBASE-T in full duplex (IANAifMauAutoNegCapBits). */
const full10G = [5, 15, 16];
/** A port that runs 10GBASE-T (dot3MauType 54). */
export const copper10G = {
  type: 54,
  negotiation: { enabled: true, partner: true, can: full10G, offers: full10G, hears: full10G },
};

/** One ordinary port. */
export function port(ifIndex: number, change: Partial<DescribedSwitchPort> = {}) {
  const hex = ifIndex.toString(16).padStart(4, '0');
  return {
    ifIndex,
    name: `xg${ifIndex}`,
    descr: `10G port ${ifIndex}`,
    type: 6,
    mtu: 9216,
    speedMbps: 10_000,
    admin: 'up',
    oper: 'up',
    duplex: 'full',
    mac: `02:00:5e:00:${hex.slice(0, 2)}:${hex.slice(2)}`,
    connector: true,
    pause: 'disabled',
    mau: copper10G,
    ...change,
  } satisfies DescribedSwitchPort;
}

/** A switch of the Saltmarsh survey office with `ports`. */
export function quaySwitch(ports: readonly DescribedSwitchPort[]): DescribedSwitch {
  return {
    sysName: 'quay-sw.office.example',
    sysDescr: 'Quay switch, 8 ports, software 4.2',
    sysObjectId: '1.3.6.1.4.1.32473.1.8',
    engineId: '80007ed90402005e0001',
    engineBoots: 7,
    upSeconds: 86_400,
    ports,
  };
}

/** `count` ordinary ports. */
export function plainSwitch(count: number): DescribedSwitch {
  return quaySwitch(Array.from({ length: count }, (_, i) => port(i + 1)));
}

/** Waits short enough for tests of silence, long enough for a busy machine. */
export const quickTiming = { replyTimeoutMs: 150, retries: 2, backoff: 1 };
/** Waits that a sound agent on loopback never uses up. */
export const patientTiming = { replyTimeoutMs: 3000, retries: 1 };

/** How to ask a simulated agent by its default community. */
export function target(agent: { address: string; port: number }): SnmpTarget {
  return {
    address: agent.address,
    port: agent.port,
    version: '2c',
    community: secret('saltmarsh'),
    timing: patientTiming,
  };
}

export const limits: ReadLimits = { ...defaultReadLimits, wholeMs: 10_000 };

/** `count` ports with all that the topics ask for, a neighbour and two stations at each. */
export function fullSwitch(count: number): DescribedSwitch {
  const hex = (number: number) => number.toString(16).padStart(2, '0');
  const mac = (kind: number, number: number) => `02:00:5e:${hex(kind)}:00:${hex(number)}`;
  const each = Array.from({ length: count }, (_, i) => i + 1);
  const member = { aggregator: 0, actor: 0xa2, partner: 0, partnerSystem: '00:00:00:00:00:00' };
  return {
    ...quaySwitch(
      each.map((i) =>
        port(i, {
          ...{ bridgePort: i, spanningTree: 5, pvid: 20, member },
          rmon: { oversize: 0, fragments: 0, jabbers: 0 },
          wide: { rxCrcErrors: 0 },
        }),
      ),
    ),
    lldp: {
      version: 1,
      neighbours: each.map((i) => ({
        ifIndex: i,
        chassis: [4, Buffer.from([2, 0, 94, 9, 0, i])],
        port: [5, 'eth0'],
        portText: 'eth0',
        systemName: `plot-${i}.office.example`,
        systemText: 'Linux 6.12.48 x86_64',
        capabilities: [7],
        addresses: [`198.18.20.${i}`],
        mau: 54,
        negotiates: true,
        frameMaxBytes: 9018,
        untaggedVlan: 20,
      })),
    },
    vlans: [1, 10, 20].map((vlan) => ({
      vlan,
      ...(vlan === 20 ? { tagged: [], untagged: each } : { tagged: each, untagged: [] }),
    })),
    stations: each.flatMap((i) =>
      [10, 20].map((vlan) => ({ mac: mac(vlan, i), ifIndex: i, vlan })),
    ),
    parts: each.flatMap((i) => [
      { part: i, holder: 0, class: 10, name: `xg${i}`, alias: i },
      {
        ...{ part: 100 + i, holder: i, class: 8, name: `xg${i} Rx power` },
        sensor: { type: 6, scale: 8, precision: 4, value: 5012 },
      },
    ]),
  };
}
