import { type SnmpSpeedReading, snmpSpeed } from '../../src/ethernet/snmp-speed.ts';
import type { Gaps } from '../../src/facts/gap.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Fault } from './fault.ts';
import { type OfficeChange, office } from './office.ts';

/** The switch port at the table, its speed read from what its agent says by the real reading. */
function agent(said: Omit<SnmpSpeedReading, 'operUp'>): OfficeChange {
  const read = snmpSpeed({ operUp: true, ...said });
  const known: PortReadFacts = 'gap' in read ? {} : { speedMbps: read.speedMbps };
  const gaps: Gaps = 'gap' in read ? { speedMbps: read.gap } : {};
  return {
    readings: {
      'quay-sw': {
        ports: { xg2: { mtuBytes: 9216, ...known }, xg3: { mtuBytes: 9216 } },
        portOwnGaps: { xg2: gaps },
      },
    },
  };
}

const right = office(agent({ ifSpeed: 4_294_967_295, ifHighSpeed: 10_000 }));
const noDuplex = (speed: string, speedMbps: number, duplex?: string) =>
  office({
    links: [
      `{ ends: [plot-1:en7, quay-sw:xg2], untagged: storage, speed: ${speed} }`,
      '{ ends: [quay-sw:xg3, vault:eth4], untagged: storage, speed: 10G }',
    ],
    segments: '{ storage: { mtu: 1500 } }',
    desk: { mtuBytes: 1500, speedMbps },
    eth4: { mtuBytes: 1500 },
    readings: {
      'quay-sw': {
        ports: {
          xg2: { mtuBytes: 9216, speedMbps, ...(duplex === undefined ? {} : { duplex }) },
          xg3: { mtuBytes: 9216 },
        },
        ...(duplex === undefined
          ? { portOwnGaps: { xg2: { duplex: { reason: 'unsupported', words: 'unknown(1)' } } } }
          : {}),
      },
    },
  });

const silent = (key: string, what: string, sick: Fault['sick'], healthy = right): Fault => ({
  ...{ key, what, sick, healthy },
  finds: [],
  at: 'quay-sw:xg2',
});
const doubted = (key: string, what: string, said: Omit<SnmpSpeedReading, 'operUp'>): Fault => ({
  ...{ key, what, sick: office(agent(said)), healthy: right },
  finds: ['speed-as-declared'],
  verdict: 'undetermined',
  at: 'quay-sw:xg2',
});

/** Faults of the auditor's own data: agents that say what is not so. */
export const agentRows: readonly Fault[] = [
  silent('agent-speed-saturated', 'ifSpeed stands at its largest value, as it should', right),
  doubted('agent-speed-wrapped', 'ifSpeed is the rest of a division by 2 to the 32nd', {
    ifSpeed: 1_410_065_408,
  }),
  silent(
    'agent-speed-in-megabits',
    'ifSpeed holds Mb/s, and ifHighSpeed is right',
    office(agent({ ifSpeed: 10_000, ifHighSpeed: 10_000 })),
  ),
  doubted('agent-high-speed-wrapped', 'ifHighSpeed has lost its upper bits as well', {
    ifSpeed: 1_410_065_408,
    ifHighSpeed: 1410,
  }),
  {
    key: 'agent-capped-at-a-gigabit',
    what: 'the agent says 1 Gb/s of a port of 10 Gb/s',
    sick: office(agent({ ifSpeed: 1_000_000_000, ifHighSpeed: 1000 })),
    healthy: right,
    finds: ['ends-same-speed', 'speed-as-declared'],
    at: 'quay-sw:xg2',
  },
  doubted('agent-speed-unknown', 'the agent says 0, which means that it does not know', {
    ifSpeed: 0,
    ifHighSpeed: 0,
  }),
  {
    key: 'agent-says-1500-of-all-ports',
    what: 'the agent says 1500 of every port while larger frames pass',
    sick: office({ xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } }),
    healthy: office({
      nodes: { 'quay-sw': '{ at: quay-sw.office.example, role: switch, mtuCounts: payload }' },
      xg2: { mtuBytes: 9000 },
      xg3: { mtuBytes: 9000 },
    }),
    finds: ['path-clearance', 'port-clearance'],
    verdict: 'undetermined',
    at: 'mtu of quay-sw',
    explains: { target: 'plotting', names: 'some agents say that while larger frames pass' },
  },
  silent(
    'agent-duplex-unknown-above-a-gigabit',
    'the agent does not know the duplex of a fast port, which can be full alone',
    noDuplex('10G', 10_000),
    noDuplex('10G', 10_000, 'full'),
  ),
  {
    key: 'agent-duplex-unknown-at-100',
    what: 'the agent does not know the duplex of a port at 100 Mb/s',
    sick: noDuplex('100M', 100),
    healthy: noDuplex('100M', 100, 'full'),
    finds: ['duplex-full'],
    verdict: 'undetermined',
    at: 'quay-sw:xg2',
  },
];
