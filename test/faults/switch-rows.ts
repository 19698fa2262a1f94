import type { Fault } from './fault.ts';
import { deskLine, held, office, vaultLine, vaultPorts } from './office.ts';

const smallHop = (names: string) => ({ target: 'plotting', kind: 'small-packet', names }) as const;
const loft = '{ at: loft-sw.office.example, role: switch }';
const twoSwitches = {
  nodes: { 'loft-sw': loft },
  links: [
    deskLine,
    '{ ends: [quay-sw:xg8, loft-sw:xg1], tagged: storage, speed: 10G }',
    '{ ends: [loft-sw:xg3, vault:eth4], untagged: storage, speed: 10G }',
  ],
};
const trunk = (mtuBytes: number) =>
  office({
    ...twoSwitches,
    readings: {
      'quay-sw': { ports: { xg2: { mtuBytes: 9216 }, xg8: { mtuBytes: 9216 } } },
      'loft-sw': { ports: { xg1: { mtuBytes }, xg3: { mtuBytes: 9216 } } },
    },
  });

const scannerAt = (speedMbps: number) => {
  const speed = speedMbps === 100 ? '100M' : '1G';
  return office({
    nodes: { scanner: '{ at: scanner.office.example }' },
    links: [
      vaultLine,
      `{ ends: [scanner:eth0, quay-sw:g5], untagged: storage, speed: ${speed} }`,
      deskLine,
    ],
    paths: '{ plotting: { from: plot-1, to: vault }, scans: { from: scanner, to: vault } }',
    readings: {
      scanner: {
        ports: { eth0: { mtuBytes: 9000, speedMbps, addresses: ['198.18.20.7/24'] } },
        routes: { '198.18.20.2': 'eth0' },
      },
      ...vaultPorts('eth4', { eth4: { mtuBytes: 9000, ...held } }, { '198.18.20.7': 'eth4' }),
      'quay-sw': {
        ports: {
          xg2: { mtuBytes: 9216 },
          xg3: { mtuBytes: 9216 },
          g5: { mtuBytes: 9216, speedMbps },
        },
      },
    },
  });
};

const counted = {
  'quay-sw': '{ at: quay-sw.office.example, role: switch, mtuCounts: header-fcs }',
};
const known = (oid: string) => ({
  'quay-sw': `{ at: quay-sw.office.example, role: switch, identity: { sysObjectId: ${oid} } }`,
});
const unreadSwitch = (frame: number) =>
  office({
    nodes: { 'quay-sw': `{ unread: switch, frame: ${frame} }` },
    links: [
      '{ ends: [plot-1:en7, quay-sw:p1], untagged: storage, speed: 10G }',
      '{ ends: [quay-sw:p2, vault:eth4], tagged: storage, speed: 10G }',
    ],
    readings: {
      'quay-sw': {},
      vault: {
        ports: {
          eth4: { mtuBytes: 9000, mtuMaxBytes: 9216, addresses: [] },
          'eth4.20': { kind: 'vlan', vlanId: 20, mtuBytes: 9000, lowerPorts: ['eth4'], ...held },
        },
        routes: { '198.18.20.1': 'eth4.20' },
      },
    },
  });
const aggregate = (xg4: number) =>
  office({
    links: [
      deskLine,
      '{ ends: [quay-sw:xg3, vault:eth4], untagged: storage, speed: 10G, lag: vault-up }',
      '{ ends: [quay-sw:xg4, vault:eth5], untagged: storage, speed: 10G, lag: vault-up }',
    ],
    readings: {
      'quay-sw': {
        ports: {
          xg2: { mtuBytes: 9216 },
          xg3: { mtuBytes: 9216 },
          xg4: { mtuBytes: xg4 },
          lag1: { kind: 'bond', mtuBytes: 9216, lowerPorts: ['xg3', 'xg4'] },
        },
      },
      vault: {
        ports: {
          eth4: { mtuBytes: 9000, addresses: [] },
          eth5: { mtuBytes: 9000, addresses: [] },
          bond0: { kind: 'bond', mtuBytes: 9000, lowerPorts: ['eth4', 'eth5'], ...held },
        },
        routes: { '198.18.20.1': 'bond0' },
      },
    },
  });

/** Faults of packet size at switches. */
export const switchRows: readonly Fault[] = [
  {
    key: 'one-switch-hop-small',
    what: 'one port of a switch was left at 1500',
    sick: office({ xg3: { mtuBytes: 1500 } }),
    healthy: office(),
    finds: ['path-clearance', 'port-clearance', 'switch-carries-segment'],
    at: 'quay-sw:xg3',
    explains: smallHop('quay-sw:xg3'),
  },
  {
    key: 'uplink-between-switches-small',
    what: 'the uplink between two switches was forgotten',
    sick: trunk(1500),
    healthy: trunk(9216),
    finds: ['path-clearance', 'port-clearance', 'switch-carries-segment'],
    at: 'loft-sw:xg1',
    explains: smallHop('loft-sw:xg1'),
  },
  {
    key: 'switch-wide-setting-not-in-force',
    what: 'large frames were set on the switch and wait for a restart',
    sick: office({ xg2: { mtuBytes: 1500 }, xg3: { mtuBytes: 1500 } }),
    healthy: office(),
    finds: ['path-clearance'],
    verdict: 'undetermined',
    at: 'quay-sw',
    explains: { target: 'plotting', names: 'all 2 physical ports say 1500' },
  },
  {
    key: 'switch-replaced',
    what: 'the switch was replaced by another, whose settings nobody knows',
    sick: office({
      nodes: known('1.3.6.1.4.1.99999.1'),
      readings: {
        'quay-sw': {
          facts: { sysObjectId: '1.3.6.1.4.1.99999.2' },
          ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 } },
        },
      },
    }),
    healthy: office({
      nodes: known('1.3.6.1.4.1.99999.1'),
      readings: {
        'quay-sw': {
          facts: { sysObjectId: '1.3.6.1.4.1.99999.1' },
          ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 } },
        },
      },
    }),
    finds: ['right-machine'],
    at: 'quay-sw',
  },
  {
    key: 'slow-port-drops-large',
    what: 'a 100 Mb/s port in a segment of large packets',
    sick: scannerAt(100),
    healthy: scannerAt(1000),
    finds: ['fast-enough-for-large'],
    at: 'quay-sw:g5',
    explains: { target: 'scans', kind: 'slow-port', names: 'quay-sw:g5' },
  },
  {
    key: 'switch-number-ambiguous',
    what: 'the switch says 9000, and what that counts is not known',
    sick: office({ xg2: { mtuBytes: 9000 }, xg3: { mtuBytes: 9000 } }),
    healthy: office(),
    finds: ['path-clearance'],
    verdict: 'undetermined',
    at: 'quay-sw',
    explains: { target: 'plotting', names: '8982 where it counts header and FCS' },
  },
  {
    key: 'switch-counts-the-frame',
    what: 'the switch counts whole frames, and 9000 of them are no packet of 9000',
    sick: office({ nodes: counted, xg3: { mtuBytes: 9000 } }),
    healthy: office({ nodes: counted }),
    finds: ['path-clearance', 'port-clearance'],
    at: 'quay-sw:xg3',
    explains: smallHop('quay-sw:xg3'),
  },
  {
    key: 'frame-without-room-for-the-tag',
    what: 'frames of 9018 bytes have no room for a tagged packet of 9000',
    sick: unreadSwitch(9018),
    healthy: unreadSwitch(9022),
    finds: ['path-clearance', 'port-clearance'],
    at: 'quay-sw:p2',
    explains: smallHop('quay-sw:p2'),
  },
  {
    key: 'aggregate-member-small-at-the-switch',
    what: 'one member of the aggregate was left at 1500 on the switch',
    sick: aggregate(1500),
    healthy: aggregate(9216),
    finds: ['path-clearance', 'port-clearance', 'aggregate-one-mtu'],
    at: 'quay-sw:xg4',
    explains: smallHop('quay-sw:xg4'),
  },
];
