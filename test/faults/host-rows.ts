import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Fault } from './fault.ts';
import { bare, deskLine, held, office, vaultPorts } from './office.ts';

const smallHop = (names: string) => ({ target: 'plotting', kind: 'small-packet', names }) as const;
const clearance = ['path-clearance', 'port-clearance', 'segment-agrees'] as const;

const taggedVault = (eth4: PortReadFacts, vlan: PortReadFacts) =>
  office({
    links: [deskLine, '{ ends: [quay-sw:xg3, vault:eth4], tagged: storage, speed: 10G }'],
    readings: vaultPorts('eth4.20', {
      eth4: { ...bare, ...eth4 },
      'eth4.20': { kind: 'vlan', vlanId: 20, lowerPorts: ['eth4'], ...held, ...vlan },
    }),
  });
const bridged = (eth4: number, br0: number, tap0?: number) =>
  office({
    readings: vaultPorts('br0', {
      eth4: { mtuBytes: eth4, ...bare },
      ...(tap0 === undefined ? {} : { tap0: { kind: 'virtual', mtuBytes: tap0, ...bare } }),
      br0: {
        kind: 'bridge',
        mtuBytes: br0,
        lowerPorts: tap0 === undefined ? ['eth4'] : ['eth4', 'tap0'],
        ...held,
      },
    }),
  });
const bonded = (sizes: { eth5?: number; eth6?: number; bond0?: number }) =>
  office({
    links: [
      deskLine,
      '{ ends: [quay-sw:xg3, vault:eth4], untagged: storage, speed: 10G, lag: vault-up }',
      '{ ends: [quay-sw:xg4, vault:eth5], untagged: storage, speed: 10G, lag: vault-up }',
    ],
    readings: {
      'quay-sw': {
        ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 9216 }, xg4: { mtuBytes: 9216 } },
      },
      ...vaultPorts('bond0', {
        eth4: { mtuBytes: sizes.bond0 ?? 9000, ...bare },
        eth5: { mtuBytes: sizes.bond0 ?? sizes.eth5 ?? 9000, ...bare },
        eth6: { mtuBytes: sizes.bond0 ?? sizes.eth6 ?? 9000, operUp: true, ...bare },
        bond0: {
          kind: 'bond',
          mtuBytes: sizes.bond0 ?? 9000,
          lowerPorts: ['eth4', 'eth5', 'eth6'],
          ...held,
        },
      }),
    },
  });
const tunnel = (eth4: number) =>
  office({
    readings: vaultPorts('vx0', {
      eth4: { mtuBytes: eth4, ...bare },
      vx0: { kind: 'tunnel', driver: 'vxlan', mtuBytes: 9000, lowerPorts: ['eth4'], ...held },
    }),
  });
const moved = (mtuBytes: number) =>
  office({
    nodes: {
      'plot-1':
        '{ at: plot-1.office.example, ports: { desk: { name: en7, mac: "02:00:5e:00:00:05" } } }',
    },
    links: [
      '{ ends: [plot-1:desk, quay-sw:xg2], untagged: storage, speed: 10G }',
      '{ ends: [quay-sw:xg3, vault:eth4], untagged: storage, speed: 10G }',
    ],
    readings: {
      'plot-1': {
        ports: {
          en9: { mtuBytes, macAddress: '02:00:5e:00:00:05', addresses: ['198.18.20.1/24'] },
        },
        routes: { '198.18.20.2': 'en9' },
      },
    },
  });

/** Faults of packet size on hosts. */
export const hostRows: readonly Fault[] = [
  {
    key: 'driver-has-no-room-for-the-tag',
    what: 'the driver accepts no more than the packet that the VLAN above it wants',
    sick: taggedVault({ mtuBytes: 9000, mtuMaxBytes: 9000 }, { mtuBytes: 9000 }),
    healthy: taggedVault({ mtuBytes: 9000, mtuMaxBytes: 9216 }, { mtuBytes: 9000 }),
    finds: ['tag-has-room'],
    at: 'vault:eth4',
    explains: { target: 'plotting', kind: 'tag-room', names: 'vault:eth4' },
  },
  {
    key: 'vlan-interface-left-small',
    what: 'a VLAN interface was left at 1500 on a port at 9000',
    sick: taggedVault({ mtuBytes: 9000, mtuMaxBytes: 9216 }, { mtuBytes: 1500 }),
    healthy: taggedVault({ mtuBytes: 9000, mtuMaxBytes: 9216 }, { mtuBytes: 9000 }),
    finds: clearance,
    at: 'vault:eth4.20',
    explains: smallHop('vault:eth4.20'),
  },
  {
    key: 'bridge-left-small',
    what: 'the port was raised, and not the bridge that holds the address',
    sick: bridged(9000, 1500),
    healthy: bridged(9000, 9000),
    finds: clearance,
    at: 'vault:br0',
    explains: smallHop('vault:br0'),
  },
  {
    key: 'port-left-small-under-a-bridge',
    what: 'the bridge was raised, and not the port below it',
    sick: bridged(1500, 9000),
    healthy: bridged(9000, 9000),
    finds: ['path-clearance', 'port-clearance', 'layers-carry'],
    at: 'vault:eth4',
    explains: smallHop('vault:eth4'),
  },
  {
    key: 'whole-stack-left-small',
    what: 'a port and the bridge on it were left at 1500',
    sick: bridged(1500, 1500),
    healthy: bridged(9000, 9000),
    finds: clearance,
    at: 'vault:eth4',
    explains: smallHop('vault:eth4'),
  },
  {
    key: 'bridge-dragged-down-by-a-member',
    what: 'a virtual machine at 1500 draws the bridge down',
    sick: bridged(9000, 1500, 1500),
    healthy: bridged(9000, 9000, 9000),
    finds: [...clearance, 'members-carry'],
    at: 'vault:tap0',
    explains: { target: 'plotting', kind: 'bridge-member', names: 'vault:tap0' },
  },
  {
    key: 'aggregate-member-small-at-the-host',
    what: 'one member of an aggregate is at 1500',
    sick: bonded({ eth5: 1500 }),
    healthy: bonded({}),
    finds: ['path-clearance', 'port-clearance', 'layers-carry'],
    at: 'vault:eth5',
    explains: smallHop('vault:eth5'),
  },
  {
    key: 'port-added-to-an-aggregate-small',
    what: 'a port that was added to the aggregate came with 1500',
    sick: bonded({ eth6: 1500 }),
    healthy: bonded({}),
    finds: ['layers-carry'],
    at: 'vault:eth6',
  },
  {
    key: 'aggregate-back-at-1500',
    what: 'an update of the server brought its aggregate back to 1500',
    sick: bonded({ bond0: 1500 }),
    healthy: bonded({}),
    finds: clearance,
    at: 'vault:bond0',
    explains: smallHop('vault:bond0'),
  },
  {
    key: 'server-back-at-1500',
    what: 'the server lost its setting at a restart',
    sick: office({ eth4: { mtuBytes: 1500, mtuMaxBytes: 9600 } }),
    healthy: office({ eth4: { mtuMaxBytes: 9600 } }),
    finds: clearance,
    at: 'vault:eth4',
    explains: smallHop('vault:eth4'),
  },
  {
    key: 'driver-accepts-no-large-packet',
    what: 'the driver of the server accepts 1500 at most',
    sick: office({ eth4: { mtuBytes: 1500, mtuMaxBytes: 1500 } }),
    healthy: office({ eth4: { mtuMaxBytes: 9000 } }),
    finds: [...clearance, 'device-can-packet'],
    at: 'vault:eth4',
    explains: { target: 'plotting', kind: 'device-maximum', names: 'vault:eth4' },
  },
  {
    key: 'adapter-offers-no-large-packet',
    what: 'the adapter of the table offers 1280 to 1500',
    sick: office({ desk: { mtuBytes: 1500, mtuMinBytes: 1280, mtuMaxBytes: 1500 } }),
    healthy: office({ desk: { mtuMinBytes: 1280, mtuMaxBytes: 16_334 } }),
    finds: [...clearance, 'device-can-packet'],
    at: 'plot-1:en7',
    explains: { target: 'plotting', kind: 'device-maximum', names: 'plot-1:en7' },
  },
  {
    key: 'setting-of-the-driver-small',
    what: 'the MTU is 9000, and the setting of the driver for large frames is off',
    sick: office({ desk: { driverMtuBytes: 1500 } }),
    healthy: office({ desk: { driverMtuBytes: 9000 } }),
    finds: ['driver-allows-packet'],
    at: 'plot-1:en7',
    explains: { target: 'plotting', kind: 'device-maximum', names: 'plot-1:en7' },
  },
  {
    key: 'setting-not-in-force',
    what: 'the configuration asks for 9000, and 1500 are in use after an update',
    sick: office({ desk: { mtuBytes: 1500, mtuConfiguredBytes: 9000 } }),
    healthy: office({ desk: { mtuConfiguredBytes: 9000 } }),
    finds: [...clearance, 'mtu-setting-in-force'],
    at: 'plot-1:en7',
    explains: smallHop('plot-1:en7'),
  },
  {
    key: 'adapter-moved-to-another-socket',
    what: 'the adapter was moved, has a new name and the default MTU',
    sick: moved(1500),
    healthy: moved(9000),
    finds: clearance,
    at: 'plot-1:desk',
    explains: smallHop('plot-1:desk'),
  },
  {
    key: 'tunnel-without-room',
    what: 'a VXLAN of 9000 on a port of 9000, which needs 9050',
    sick: tunnel(9000),
    healthy: tunnel(9050),
    finds: ['tunnel-has-room'],
    at: 'vault:eth4',
    explains: { target: 'plotting', kind: 'tunnel-room', names: 'vault:eth4' },
  },
  {
    key: 'route-carries-a-small-mtu',
    what: 'the route to the server carries an MTU of 1500',
    sick: office({
      readings: {
        'plot-1': {
          ports: { en7: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] } },
          routes: { '198.18.20.2': { device: 'en7', mtuBytes: 1500 } },
        },
      },
    }),
    healthy: office(),
    finds: ['route-full-size'],
    at: 'plot-1',
    explains: { target: 'plotting', kind: 'route-mtu', names: 'plot-1' },
  },
];
