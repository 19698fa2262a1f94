import type { CauseKind, Certainty } from '../../src/diagnose/cause.ts';
import type { Site } from '../../src/site/types.ts';
import type { Described } from '../faults/described.ts';
import {
  cable,
  describedLag,
  describedLink,
  deskLink,
  downGaps,
  type LagCase,
  type LinkCase,
  lagSite,
  linkSite,
  lists,
  module,
  noLinkAt,
} from './fault-site.ts';

/** A fault of the trade, a described site that has it, and the same site without it. */
export interface FaultRow {
  /** What a person would call it. */
  readonly fault: string;
  readonly target: string;
  readonly sick: Site;
  readonly first: { readonly kind: CauseKind; readonly certainty: Certainty };
  /** What the first cause must name. */
  readonly names: string;
  /** Identifier of the element marked as limiting; absent: none of a table. */
  readonly marks?: string;
  readonly healthy: Site;
  /** Both as an intent file and a survey. */
  readonly described: { readonly sick: Described; readonly healthy: Described };
}

interface Told {
  readonly fault: string;
  readonly first: readonly [CauseKind, Certainty];
  readonly names: string;
  readonly marks?: string;
}

function onLink(told: Told, sick: LinkCase, healthy: LinkCase): FaultRow {
  const [kind, certainty] = told.first;
  return {
    ...told,
    target: deskLink,
    sick: linkSite(sick),
    first: { kind, certainty },
    healthy: linkSite(healthy),
    described: { sick: describedLink(sick), healthy: describedLink(healthy) },
  };
}

function onLag(
  told: Told & { readonly target: string },
  sick: LagCase,
  healthy: LagCase,
): FaultRow {
  const [kind, certainty] = told.first;
  return {
    ...told,
    sick: lagSite(sick),
    first: { kind, certainty },
    healthy: lagSite(healthy),
    described: { sick: describedLag(sick), healthy: describedLag(healthy) },
  };
}

const gigabit = { speedMbps: 1000, run: [cable('cord', 'cat5e', 3)] };
const fast = { speedMbps: 100, run: [cable('cord', 'cat5e', 3)] };
const fibre = { run: [cable('fibre', 'om3', 30)] };
const at = (speedMbps: number) => ({ speedMbps, ...lists(10_000) });
const srModule = {
  moduleText: '10GBASE-SR',
  phyText: '10GBASE-SR',
  txPowerDbm: -2.1,
  rxPowerLowDbm: -9.9,
  rxPowerHighDbm: -1,
};
/** 12.5 terabytes in frames of 1250 bytes. */
const manyTerabytes = { rxOctets: 12.5e12, rxFrames: 1e10 };
const usbDesk = { speedMbps: 2500, ...lists(2500) };
const usbLink = { speedMbps: 2500, run: [cable('cord', 'cat5e', 3)] };
const halfAt100 = { speedMbps: 100, duplex: 'half', autoNegotiation: true } as const;
const fixedAt100 = { speedMbps: 100, duplex: 'full', autoNegotiation: false } as const;
const auto100 = { speedMbps: 100, duplex: 'full', ...lists(100) } as const;

/** Speed. */
const speedRows: readonly FaultRow[] = [
  onLink(
    {
      fault: '100 Mb/s by one broken pair',
      first: ['cable', 'is'],
      names: 'the cable or a connector',
      marks: 'run',
    },
    {
      link: gigabit,
      desk: { ...lists(1000), speedMbps: 100 },
      port: { ...lists(1000), speedMbps: 100 },
    },
    {
      link: gigabit,
      desk: { ...lists(1000), speedMbps: 1000 },
      port: { ...lists(1000), speedMbps: 1000 },
    },
  ),
  onLink(
    {
      fault: 'one side does not offer the speed',
      first: ['configuration', 'is'],
      names: 'quay-sw:xg2',
      marks: 'end quay-sw:xg2',
    },
    {
      desk: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 },
      port: { ...lists(10_000, 1000, 10_000), speedMbps: 1000 },
    },
    { desk: at(10_000), port: at(10_000) },
  ),
  onLink(
    {
      fault: 'one side cannot reach the speed',
      first: ['capability', 'is'],
      names: 'plot-1:en7',
      marks: 'end plot-1:en7',
    },
    {
      desk: { ...lists(1000, 1000, 10_000), speedMbps: 1000 },
      port: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 },
    },
    { desk: at(10_000), port: at(10_000) },
  ),
  onLink(
    {
      fault: '10 Gb/s at 2.5 Gb/s over a long Cat5e run',
      first: ['cable', 'is'],
      names: 'wall cat5e 60 m',
      marks: 'piece 1',
    },
    {
      link: { run: [cable('cord', 'cat6a', 2), cable('wall', 'cat5e', 60)] },
      desk: at(2500),
      port: at(2500),
    },
    {
      link: { run: [cable('cord', 'cat6a', 2), cable('wall', 'cat6a', 60)] },
      desk: at(10_000),
      port: at(10_000),
    },
  ),
  onLink(
    {
      fault: 'a driver that leaves 2.5 Gb/s out of what it offers',
      first: ['configuration', 'is'],
      names: 'plot-1:en7',
      marks: 'end plot-1:en7',
    },
    {
      link: usbLink,
      desk: { ...lists(2500, 1000, 2500), speedMbps: 1000 },
      port: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 },
    },
    { link: usbLink, desk: usbDesk, port: { ...lists(10_000, 10_000, 2500), speedMbps: 2500 } },
  ),
  onLink(
    {
      fault: 'a copper module that adapts the rate',
      first: ['rate-adapting-module', 'is'],
      names: 'module 10GBASE-T',
      marks: 'piece 1',
    },
    {
      link: { run: [cable('cord', 'cat6a', 3), module('10GBASE-T')] },
      desk: at(1000),
      port: { speedMbps: 10_000 },
    },
    {
      link: { run: [cable('cord', 'cat6a', 3), module('10GBASE-T')] },
      desk: at(10_000),
      port: { speedMbps: 10_000 },
    },
  ),
  onLink(
    {
      fault: 'a module of the wrong rate',
      first: ['module', 'is'],
      names: '1 Gb/s',
      marks: 'module plot-1:en7',
    },
    {
      link: fibre,
      desk: { ...noLinkAt, moduleText: '1000BASE-SX' },
      deskOwnGaps: downGaps,
      port: { operUp: false },
    },
    { link: fibre, desk: { moduleText: '10GBASE-SR' }, port: {} },
  ),
  onLink(
    {
      fault: 'modules of two kinds at the ends of one fibre',
      first: ['module', 'is'],
      names: 'modules of different speeds',
      marks: 'module plot-1:en7',
    },
    {
      link: fibre,
      desk: { ...noLinkAt, moduleText: '1000BASE-SX' },
      deskOwnGaps: downGaps,
      port: { operUp: false, moduleText: '10GBASE-SR' },
    },
    { link: fibre, desk: { moduleText: '10GBASE-SR' }, port: { moduleText: '10GBASE-SR' } },
  ),
  onLink(
    {
      fault: 'light that is too weak',
      first: ['optics', 'is'],
      names: 'plot-1:en7',
      marks: 'module plot-1:en7',
    },
    {
      link: fibre,
      desk: { ...srModule, rxPowerDbm: -13.2, rxCrcErrors: 4000, rxFrames: 1e8, rxOctets: 1e11 },
      port: srModule,
    },
    {
      link: fibre,
      desk: { ...srModule, rxPowerDbm: -3.4, rxCrcErrors: 0, rxFrames: 1e8, rxOctets: 1e11 },
      port: srModule,
    },
  ),
  onLink(
    {
      fault: 'energy saving and a link that comes and goes',
      first: ['eee', 'check'],
      names: '802.3az',
      marks: 'end plot-1:en7',
    },
    { desk: { ...at(10_000), eeeActive: true, carrierChanges: 61 }, port: at(10_000) },
    { desk: { ...at(10_000), eeeActive: true, carrierChanges: 2 }, port: at(10_000) },
  ),
  onLink(
    {
      fault: 'a link that comes and goes',
      first: ['flaps', 'likely'],
      names: 'comes and goes',
      marks: 'run',
    },
    { desk: { ...at(10_000), linkDownEvents: 30 }, port: at(10_000) },
    { desk: { ...at(10_000), linkDownEvents: 1 }, port: at(10_000) },
  ),
  onLink(
    {
      fault: 'broken frames beyond what the PHY may make',
      first: ['errors', 'likely'],
      names: 'in the direction to plot-1:en7',
      marks: 'run',
    },
    {
      link: gigabit,
      desk: { ...lists(1000), speedMbps: 1000, rxCrcErrors: 30, rxOctets: 5e9, rxFrames: 4e6 },
      port: { ...lists(1000), speedMbps: 1000 },
    },
    {
      link: gigabit,
      desk: { ...lists(1000), speedMbps: 1000, rxCrcErrors: 30, ...manyTerabytes },
      port: { ...lists(1000), speedMbps: 1000 },
    },
  ),
  onLink(
    {
      fault: 'a slot with one lane',
      first: ['bus', 'is'],
      names: 'PCIe 2.5 GT/s x1',
      marks: 'bus plot-1:en7',
    },
    {
      desk: { ...at(10_000), busText: 'PCIe 2.5 GT/s x1', busMbps: 2000, busMaxMbps: 31_508 },
      port: at(10_000),
    },
    { desk: { ...at(10_000), busText: 'PCIe 8.0 GT/s x4', busMbps: 31_508 }, port: at(10_000) },
  ),
  onLink(
    {
      fault: 'a Thunderbolt tunnel that hardly feeds the port',
      first: ['bus', 'check'],
      names: 'Thunderbolt 10 Gb/s',
      marks: 'bus plot-1:en7',
    },
    { desk: { ...at(10_000), busText: 'Thunderbolt 10 Gb/s' }, port: at(10_000) },
    { desk: { ...at(10_000), busText: 'Thunderbolt 40 Gb/s' }, port: at(10_000) },
  ),
  onLink(
    {
      fault: 'an adapter at a USB 2 port',
      first: ['bus', 'is'],
      names: 'USB 480 Mb/s',
      marks: 'bus plot-1:en7',
    },
    { link: usbLink, desk: { ...usbDesk, busText: 'USB 480 Mb/s', busMbps: 480 }, port: usbDesk },
    { link: usbLink, desk: { ...usbDesk, busText: 'USB 5000 Mb/s', busMbps: 4000 }, port: usbDesk },
  ),
  onLink(
    {
      fault: 'a hidden switch behind the cable, by unequal ends',
      first: ['hidden-device', 'is'],
      names: 'does not name',
      marks: 'run',
    },
    { desk: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 }, port: at(10_000) },
    { desk: at(10_000), port: at(10_000) },
  ),
  onLink(
    {
      fault: 'a hidden switch behind the cable, by what an end hears',
      first: ['hidden-device', 'likely'],
      names: 'does not name',
      marks: 'run',
    },
    {
      desk: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 },
      port: { ...lists(10_000, 10_000, 1000), speedMbps: 1000 },
    },
    { desk: at(10_000), port: at(10_000) },
  ),
  onLink(
    {
      fault: 'a virtual port that makes up its speed',
      first: ['virtual-port', 'is'],
      names: 'plot-1:en7 is virtual',
    },
    {
      desk: { kind: 'virtual', driver: 'veth', speedMbps: 10_000 },
      port: { speedMbps: 1000 },
    },
    { desk: { driver: 'ixgbe', speedMbps: 10_000 }, port: { speedMbps: 10_000 } },
  ),
  onLink(
    {
      fault: 'no link, which is no matter of speed',
      first: ['down', 'likely'],
      names: 'no matter of speed',
      marks: 'run',
    },
    { desk: noLinkAt, deskOwnGaps: downGaps, port: { operUp: false } },
    { desk: at(10_000), port: at(10_000) },
  ),
];

/** Duplex and pause. */
const duplexRows: readonly FaultRow[] = [
  onLink(
    {
      fault: 'fixed against auto, both ends read',
      first: ['forced-against-auto', 'is'],
      names: 'the configuration of quay-sw:xg2',
      marks: 'end quay-sw:xg2',
    },
    {
      link: fast,
      desk: { ...halfAt100, lateCollisions: 310 },
      port: { ...fixedAt100, rxCrcErrors: 95, rxFrames: 1e6 },
    },
    { link: fast, desk: auto100, port: auto100 },
  ),
  onLink(
    {
      fault: 'fixed against auto, told by one end alone',
      first: ['forced-against-auto', 'likely'],
      names: 'the configuration of quay-sw:xg2',
      marks: 'end quay-sw:xg2',
    },
    {
      link: fast,
      desk: { ...halfAt100, lateCollisions: 310 },
      port: { speedMbps: 100, duplex: 'unknown' },
    },
    { link: fast, desk: auto100, port: auto100 },
  ),
  onLink(
    {
      fault: 'half duplex at both ends',
      first: ['half-duplex', 'is'],
      names: 'plot-1:en7 and quay-sw:xg2',
      marks: 'end plot-1:en7',
    },
    { link: fast, desk: halfAt100, port: halfAt100 },
    { link: fast, desk: auto100, port: auto100 },
  ),
  onLink(
    {
      fault: 'both ends fixed alike',
      first: ['both-forced', 'check'],
      names: 'plot-1:en7 and quay-sw:xg2',
      marks: 'end plot-1:en7',
    },
    { link: fast, desk: fixedAt100, port: fixedAt100 },
    { link: fast, desk: auto100, port: auto100 },
  ),
  onLink(
    {
      fault: 'both ends fixed at speeds that differ',
      first: ['forced-apart', 'is'],
      names: 'different speeds',
      marks: 'end plot-1:en7',
    },
    {
      link: fast,
      desk: { ...noLinkAt, autoNegotiation: false, advertisedModes: ['10baseT/Full'] },
      deskOwnGaps: downGaps,
      port: { operUp: false, autoNegotiation: false, advertisedModes: ['100baseT/Full'] },
    },
    { link: fast, desk: auto100, port: auto100 },
  ),
  onLink(
    {
      fault: 'pause frames that one end ignores',
      first: ['pause', 'is'],
      names: 'quay-sw:xg2 asks for pauses that plot-1:en7 ignores',
      marks: 'end plot-1:en7',
    },
    { desk: { ...at(10_000), pauseRx: false }, port: { ...at(10_000), pauseTx: true } },
    { desk: { ...at(10_000), pauseRx: true }, port: { ...at(10_000), pauseTx: true } },
  ),
  onLink(
    {
      fault: 'a storm of pause frames',
      first: ['pause', 'likely'],
      names: 'pause frames from quay-sw:xg2',
      marks: 'end quay-sw:xg2',
    },
    { desk: { ...at(10_000), rxPauseFrames: 9e6 }, port: at(10_000) },
    { desk: { ...at(10_000), rxPauseFrames: 120 }, port: at(10_000) },
  ),
];

const memberLink = 'vault:eth5 - quay-sw:xg4';

/** Aggregates and routes. */
const aggregateRows: readonly FaultRow[] = [
  onLag(
    {
      fault: 'a member without link',
      target: memberLink,
      first: ['lag-member', 'is'],
      names: 'vault-up',
      marks: 'run',
    },
    {
      eth5: noLinkAt,
      eth5OwnGaps: downGaps,
      xg4: { operUp: false },
      xg4OwnGaps: downGaps,
    },
    {},
  ),
  onLag(
    {
      fault: 'a member that is not in the aggregate',
      target: memberLink,
      first: ['lag-member', 'is'],
      names: 'vault:eth5',
      marks: 'end vault:eth5',
    },
    { lowerPorts: ['eth4'] },
    {},
  ),
  onLag(
    {
      fault: 'members of unequal speed',
      target: memberLink,
      first: ['lag-mixed', 'is'],
      names: 'vault-up',
      marks: 'end vault:eth5',
    },
    { eth5: { speedMbps: 1000 } },
    {},
  ),
  onLag(
    {
      fault: 'one flow does not get the speed of two members',
      target: 'plotting',
      first: ['lag-one-flow', 'is'],
      names: 'no fault: one flow uses one member',
    },
    // More flows do reach it: the workstation is faster than both members together.
    { goodputMbps: 18_000, deskMbps: 25_000 },
    { goodputMbps: 9400, deskMbps: 25_000 },
  ),
  onLag(
    {
      fault: 'traffic leaves by the slow port',
      target: 'plotting',
      first: ['wrong-route', 'is'],
      names: 'leaves by plot-1:en0',
    },
    { sendsBy: 'en0' },
    {},
  ),
  onLag(
    {
      fault: 'the answer takes another way',
      target: 'plotting',
      first: ['wrong-route', 'is'],
      names: 'leaves by vault:eth0',
    },
    { answersBy: 'eth0' },
    {},
  ),
];

/** All of them, in the order of the trade's catalogue. */
export const faultRows: readonly FaultRow[] = [...speedRows, ...duplexRows, ...aggregateRows];
