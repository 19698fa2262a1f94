import { type FaultRow, faultRows } from '../diagnose/fault-rows.ts';
import type { Fault } from './fault.ts';

/** Key, rules and place for each site of a link or aggregate that `explain` is tried on. */
type Told = readonly [key: string, finds: readonly string[], at: string, doubt?: 'undetermined'];

const desk = 'plot-1:en7';
const link = 'plot-1:en7 - quay-sw:xg2';
const member = 'vault:eth5 - quay-sw:xg4';

const told: Readonly<Record<string, Told>> = {
  '100 Mb/s by one broken pair': [
    'one-pair-broken',
    ['speed-as-declared', 'cable-carries-offer'],
    link,
  ],
  'one side does not offer the speed': [
    'speed-not-offered',
    ['speed-as-declared', 'setting-allows-speed'],
    'quay-sw:xg2',
  ],
  'one side cannot reach the speed': [
    'speed-not-reached',
    ['speed-as-declared', 'ends-capable'],
    desk,
  ],
  '10 Gb/s at 2.5 Gb/s over a long Cat5e run': [
    'run-too-weak',
    ['speed-as-declared', 'run-carries-speed'],
    'wall cat5e 60 m',
  ],
  'a driver that leaves 2.5 Gb/s out of what it offers': [
    'driver-leaves-speed-out',
    ['speed-as-declared', 'setting-allows-speed'],
    desk,
  ],
  'a copper module that adapts the rate': [
    'module-adapts-rate',
    ['ends-same-speed', 'speed-as-declared'],
    link,
  ],
  'a module of the wrong rate': ['module-of-another-rate', ['port-up'], link],
  'modules of two kinds at the ends of one fibre': ['modules-of-two-kinds', ['port-up'], link],
  'light that is too weak': [
    'light-too-weak',
    ['light-within-limits', 'errors-within-limit'],
    desk,
  ],
  'energy saving and a link that comes and goes': [
    'energy-saving-flaps',
    ['stays-up', 'no-energy-saving-where-it-flaps'],
    desk,
  ],
  'a link that comes and goes': ['link-flaps', ['stays-up'], desk],
  'broken frames beyond what the PHY may make': ['broken-frames', ['errors-within-limit'], desk],
  'a slot with one lane': ['slot-with-one-lane', ['bus-feeds-port'], desk],
  'a Thunderbolt tunnel that hardly feeds the port': [
    'tunnelled-bus-tight',
    ['bus-feeds-port'],
    desk,
    'undetermined',
  ],
  'an adapter at a USB 2 port': ['slow-usb', ['bus-feeds-port'], desk],
  'a hidden switch behind the cable, by unequal ends': [
    'hidden-switch-unequal-ends',
    ['ends-same-speed', 'speed-as-declared'],
    link,
  ],
  'a hidden switch behind the cable, by what an end hears': [
    'hidden-switch-heard',
    ['speed-as-declared'],
    link,
  ],
  'a virtual port that makes up its speed': ['virtual-speed', ['speed-as-declared'], 'quay-sw:xg2'],
  'no link, which is no matter of speed': ['no-link', ['port-up'], link],
  'fixed against auto, both ends read': [
    'fixed-against-auto',
    ['duplex-full', 'ends-same-duplex', 'partner-negotiates'],
    link,
  ],
  'fixed against auto, told by one end alone': [
    'fixed-against-auto-one-end',
    ['duplex-full', 'partner-negotiates'],
    desk,
  ],
  'half duplex at both ends': ['half-duplex', ['duplex-full'], desk],
  'both ends fixed alike': ['both-ends-fixed', ['end-negotiates'], link],
  'both ends fixed at speeds that differ': ['fixed-apart', ['port-up'], link],
  'pause frames that one end ignores': ['pause-ignored', ['pause-heeded'], desk],
  'a storm of pause frames': ['pause-storm', ['seldom-paused'], 'quay-sw:xg2'],
  'a member without link': ['aggregate-member-down', ['port-up', 'members-up'], member],
  'a member that is not in the aggregate': [
    'aggregate-member-left-out',
    ['members-present'],
    'vault:eth5',
  ],
  'members of unequal speed': ['aggregate-members-unequal', ['speed-as-declared'], member],
  'one flow does not get the speed of two members': ['one-flow-one-member', [], 'plotting'],
  'traffic leaves by the slow port': [
    'leaves-by-the-slow-port',
    ['leaves-as-declared'],
    'plot-1:en0',
  ],
  'the answer takes another way': [
    'answer-takes-another-way',
    ['leaves-as-declared'],
    'vault:eth0',
  ],
};

function asFault(row: FaultRow): Fault {
  const found = told[row.fault];
  if (found === undefined) throw new Error(`no rules are named for: ${row.fault}`);
  const [key, finds, at, doubt] = found;
  return {
    key,
    what: row.fault,
    ...row.described,
    finds,
    ...(doubt === undefined ? {} : { verdict: doubt }),
    at,
    explains: { target: row.target, kind: row.first.kind, names: row.names },
  };
}

/** Faults of speed, duplex, signal, aggregates and routes. */
export const linkRows: readonly Fault[] = faultRows.map(asFault);
