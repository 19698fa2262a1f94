import type { NodeReadingSketch } from '../site/builders.ts';
import type { Fault } from './fault.ts';
import { deskLine, held, office, vaultLine } from './office.ts';

const readAt = (port: string, mtuBytes: number, host: number): NodeReadingSketch => ({
  ports: { [port]: { mtuBytes, addresses: [`198.18.20.${host}/24`] } },
});
const switchPorts = (...names: readonly string[]): NodeReadingSketch => ({
  ports: Object.fromEntries(names.map((name) => [name, { mtuBytes: 9216 }])),
});

const gateway = (mtuBytes: number) =>
  office({
    nodes: { gate: '{ at: gate.office.example, routes: true }' },
    links: [
      deskLine,
      vaultLine,
      '{ ends: [gate:em0, quay-sw:xg7], untagged: storage, speed: 10G }',
    ],
    readings: {
      gate: readAt('em0', mtuBytes, 254),
      'quay-sw': switchPorts('xg2', 'xg3', 'xg7'),
    },
  });
const tablet = (kind: 'wireless' | 'physical', mtuBytes: number) =>
  office({
    nodes: { tablet: '{ at: tablet.office.example }', mast: '{ unread: radio }' },
    links: [
      deskLine,
      vaultLine,
      '{ ends: [tablet:en0, mast:air], untagged: storage }',
      '{ ends: [mast:lan, quay-sw:xg7], untagged: storage }',
    ],
    readings: {
      tablet: { ports: { en0: { kind, mtuBytes, addresses: ['198.18.20.9/24'] } } },
      'quay-sw': switchPorts('xg2', 'xg3', 'xg7'),
    },
  });
const routed = (em1: number, officeMtu: number, printer: number) =>
  office({
    nodes: {
      gate: '{ at: gate.office.example, routes: true }',
      printer: '{ at: printer.office.example }',
      vault: '',
      'loft-sw': '{ at: loft-sw.office.example, role: switch }',
    },
    segments: `{ storage: { vlan: 20, mtu: 9000 }, office: { vlan: 1, mtu: ${officeMtu} } }`,
    links: [
      deskLine,
      '{ ends: [gate:em0, quay-sw:xg7], untagged: storage, speed: 10G }',
      '{ ends: [gate:em1, loft-sw:xg1], untagged: office, speed: 10G }',
      '{ ends: [printer:lan, loft-sw:xg2], untagged: office, speed: 10G }',
    ],
    paths: '{ prints: { from: plot-1, to: printer, over: [storage, office] } }',
    readings: {
      'plot-1': { ...readAt('en7', 9000, 1), routes: { '198.18.30.3': 'en7' } },
      'quay-sw': switchPorts('xg2', 'xg7'),
      'loft-sw': switchPorts('xg1', 'xg2'),
      gate: {
        ports: {
          em0: { mtuBytes: 9000, addresses: ['198.18.20.254/24'] },
          em1: { mtuBytes: em1, addresses: ['198.18.30.254/24'] },
        },
      },
      printer: {
        ports: { lan: { mtuBytes: printer, addresses: ['198.18.30.3/24'] } },
        routes: { '198.18.20.1': 'lan' },
      },
    },
  });
const handedOut = (macos: number) =>
  office({
    nodes: {
      'plot-2': '{ at: plot-2.office.example }',
      'plot-3': '{ at: plot-3.office.example }',
    },
    links: [
      deskLine,
      vaultLine,
      '{ ends: [plot-2:en7, quay-sw:xg5], untagged: storage }',
      '{ ends: [plot-3:eth0, quay-sw:xg6], untagged: storage }',
    ],
    readings: {
      'plot-1': {
        ...readAt('en7', macos, 1),
        facts: { systemKind: 'macos' },
        routes: { '198.18.20.2': 'en7' },
      },
      'plot-2': { ...readAt('en7', macos, 3), facts: { systemKind: 'macos' } },
      'plot-3': { ...readAt('eth0', 9000, 4), facts: { systemKind: 'linux' } },
      'quay-sw': switchPorts('xg2', 'xg3', 'xg5', 'xg6'),
    },
  });
/** A cable from the table to the server, and the office network beside it. */
const direct = (server: readonly string[], leavesBy: string) =>
  office({
    nodes: { 'quay-sw': '' },
    links: ['{ ends: [plot-1:en7, vault:eth4], untagged: storage, speed: 10G }'],
    readings: {
      'plot-1': {
        ports: {
          en7: { mtuBytes: 9000, addresses: ['198.18.20.1/24'] },
          en0: { speedMbps: 1000, operUp: true, kind: 'wireless', addresses: ['198.18.30.1/24'] },
        },
        routes: Object.fromEntries(
          ['198.18.99.2', '198.18.20.2', '198.18.30.2'].map((to) => [to, leavesBy]),
        ),
      },
      vault: {
        ports: {
          eth4: { mtuBytes: 9000, addresses: server },
          wl0: { kind: 'wireless', speedMbps: 1000, addresses: ['198.18.30.2/24'] },
        },
        routes: { '198.18.20.1': leavesBy === 'en7' ? 'eth4' : 'wl0' },
      },
    },
  });
const directLink = 'plot-1:en7 - vault:eth4';
const noSubnet = {
  target: directLink,
  kind: 'no-common-subnet',
  names: 'have no common subnet',
} as const;

/** Faults of what shares a segment, of routers and of cables between two hosts. */
export const segmentRows: readonly Fault[] = [
  {
    key: 'gateway-small-in-the-segment',
    what: 'the gateway is at 1500 in a segment of 9000',
    sick: gateway(1500),
    healthy: gateway(9000),
    finds: ['segment-agrees', 'port-clearance'],
    at: 'gate:em0',
  },
  {
    key: 'wireless-in-the-segment',
    what: 'a tablet on the radio is in a segment of 9000',
    sick: tablet('wireless', 1500),
    healthy: tablet('physical', 9000),
    finds: ['segment-agrees', 'port-clearance', 'wireless-off-large-segment'],
    at: 'tablet:en0',
  },
  {
    key: 'router-must-shrink-packets',
    what: 'a router joins 9000 and 1500, and transfers need its ICMP',
    sick: routed(1500, 1500, 1500),
    healthy: routed(9000, 9000, 9000),
    finds: ['no-router-shrinks'],
    at: 'gate:em1',
    explains: { target: 'prints', kind: 'router-shrinks', names: 'gate:em1' },
  },
  {
    key: 'router-small',
    what: 'a port of the router was left at 1500 between two segments of 9000',
    sick: routed(1500, 9000, 9000),
    healthy: routed(9000, 9000, 9000),
    finds: ['path-clearance', 'segment-agrees', 'port-clearance'],
    at: 'gate:em1',
    explains: { target: 'prints', kind: 'small-packet', names: 'gate:em1' },
  },
  {
    key: 'mtu-handed-out-to-some-systems',
    what: 'DHCP hands out 9000, and half of the systems do not heed it',
    sick: handedOut(1500),
    healthy: handedOut(9000),
    finds: ['segment-agrees'],
    at: 'by system: linux 9000, macos 1500',
    explains: { target: 'plotting', kind: 'small-packet', names: 'plot-1:en7' },
  },
  {
    key: 'direct-cable-in-two-subnets',
    what: 'a cable between two hosts whose ends are in different subnets',
    sick: direct(['198.18.99.2/24'], 'en0'),
    healthy: direct(held.addresses ?? [], 'en7'),
    finds: ['ends-share-subnet', 'leaves-as-declared'],
    at: directLink,
    explains: noSubnet,
  },
  {
    key: 'direct-cable-without-address',
    what: 'a cable between two hosts, one end with a link-local address alone',
    sick: direct([], 'en0'),
    healthy: direct(held.addresses ?? [], 'en7'),
    finds: ['ends-share-subnet', 'leaves-as-declared'],
    at: directLink,
    explains: noSubnet,
  },
];
