import { describe, expect, it } from 'vitest';
import { dictionary } from '../../src/facts/dictionary.ts';
import type { FactValue } from '../../src/facts/entry.ts';
import type { Gaps } from '../../src/facts/gap.ts';
import { judge } from '../../src/judge/judge.ts';
import type { Policy, Rule } from '../../src/judge/policy.ts';
import { loadShipped } from './shipped.ts';
import { subjectOf } from './subject-of.ts';

type Facts = Readonly<Record<string, FactValue>>;
type Outcome = 'met' | 'broken' | 'undetermined' | 'notApplicable';

/** What a rule says of a subject: `facts` over those of the rule's base, without `absent`. */
interface Case {
  readonly rule: string;
  readonly name: string;
  readonly outcome: Outcome;
  readonly facts?: Facts;
  /** Facts that could not be read. */
  readonly unread?: readonly string[];
  /** Facts that nothing gives. */
  readonly none?: readonly string[];
  readonly cause?: string;
  readonly what?: string;
  /** How the advice begins. */
  readonly advice?: string;
}

const policies = await loadShipped('essential', 'jumbo', 'cabling', 'signal', 'proven');
const rules = policies.flatMap((policy) => policy.rules);
const gap = { reason: 'unreachable', words: 'no answer', cause: 'node vault' } as const;

// Subjects on which every rule of their kind is met.
const bases: Readonly<Record<Rule['judges'], Facts>> = {
  node: {
    name: 'vault',
    unread: false,
    sleeps: false,
    read: true,
    contradictions: [],
    disagreements: [],
    undeclaredLivePorts: [],
    osVersion: '15.1',
    declaredOsAtLeast: '14.5',
    osRecentEnough: true,
    undeclaredLinks: [],
  },
  port: {
    id: 'vault:eth4',
    node: 'vault',
    unread: false,
    mayBeDown: false,
    linked: true,
    found: true,
    onSwitch: false,
    virtual: false,
    adminUp: true,
    operUp: true,
    linkId: 'vault:eth4 - quay-sw:xg3',
    farPort: 'quay-sw:xg3',
    speedMbps: 10_000,
    declaredSpeedMbps: 10_000,
    duplex: 'full',
    declaredDuplex: 'full',
    mtuBytes: 9000,
    declaredMtuBytes: 9000,
    passesAtMostBytes: 9000,
    carriesDeclaredMtu: true,
    driverVersion: '3.1.6.0',
    declaredName: 'eth4',
    nameAsDeclared: true,
    declaredDriverAtLeast: '3.1',
    driverRecentEnough: true,
    smallestLayer: 'vault:eth4',
    smallestLayerMtuBytes: 9000,
    portToRaise: 'vault:eth4',
    wireless: false,
    mtuMaxBytes: 9600,
    canDeclaredMtu: true,
    driverMtuBytes: 9000,
    driverAllowsMtu: true,
    mtuConfiguredBytes: 9000,
    mtuAsConfigured: true,
    parentPort: 'vault:eth4',
    tagHasRoom: true,
    smallMembers: [],
    mtuOfAggregateBytes: 9000,
    mtuAsAggregate: true,
    tunnelOverheadBytes: 50,
    tunnelNeedsBytes: 9050,
    underlayMtuBytes: 9100,
    speedTakesLarge: true,
    rxPauseFrames: 12,
    pausedShare: 0,
    membersDownPorts: [],
    rxFrames: 4_000_000,
    rxCrcErrors: 0,
    errorVerdict: 'within',
    errorRatio: 1e-13,
    errorLimitRatio: 1e-12,
    brokenFrames: 0,
    countedFrames: 4_000_000,
    countedSince: 'its counters began',
    rxPowerDbm: -4,
    rxPowerVerdict: 'ok',
    linkChangesPerDay: 0.1,
    eeeActive: false,
    halfDuplexSuspect: false,
    busText: 'PCIe 8.0 GT/s x4',
    busFeedsPort: true,
    farNode: 'quay-sw',
    neighbour: 'quay-sw:xg3',
    neighbourDeclared: true,
    neighbourKnownBy: 'lldp',
    between: [],
    foundOn: ['vault:eth4'],
    farEndElsewhere: false,
    macsBehind: 1,
    behindAtMost: 1,
    untaggedVlan: 20,
    taggedVlans: [],
    vlansMissing: [],
    vlansUnexpected: [],
    vlansAsDeclared: true,
    memberDistributes: true,
  },
  link: {
    id: 'vault:eth4 - quay-sw:xg3',
    ends: ['vault:eth4', 'quay-sw:xg3'],
    judged: true,
    speedsMbps: [10_000, 10_000],
    speedsEqual: true,
    duplexes: ['full', 'full'],
    duplexesEqual: true,
    endsShareSubnet: true,
    endAddresses: ['plot-1:en7 198.18.20.1/24', 'vault:eth4 198.18.20.2/24'],
    bothFixed: false,
    pauseHeeded: true,
    declaredSpeedMbps: 10_000,
    runsAsDeclared: true,
    runFits: true,
    modulesAgree: true,
    mediumAsDeclared: true,
    mediumSaid: ['vault:eth4 10GBASE-CR'],
    limitKind: 'nothing',
    commonMbps: 10_000,
    lag: 'vault-up',
    memberAggregatorsEqual: true,
    memberPartnersEqual: true,
    memberSpeedsEqual: true,
    memberSpeedsMbps: [10_000, 10_000],
    aggregateMembersMissing: [],
  },
  segment: {
    name: 'storage',
    declaredMtuBytes: 9000,
    addressedPorts: ['plot-1:desk', 'vault:bond0'],
    addressedMtusBytes: [9000, 9000],
    addressedMtusEqual: true,
    oddPorts: [],
  },
  path: {
    id: 'plotting',
    name: 'plotting',
    from: 'plot-1',
    to: 'vault',
    connected: true,
    declaredMtuBytes: 9000,
    mtuAtMostBytes: 9000,
    carriesDeclaredMtu: true,
    narrowestPort: 'vault:eth4',
    portToRaise: 'vault:eth4',
    blockedPorts: [],
    takesBestWay: true,
    bestWayMbps: 10_000,
    wayInUseMbps: 10_000,
    slowestPort: 'quay-sw:xg3',
    slowestLink: 'vault:eth4 - quay-sw:xg3',
    slowestMbps: 10_000,
    declaredGoodputMbps: 9500,
    goodputAtMostMbps: 9900,
    goodputInReach: true,
    passesWhatIsSent: true,
  },
  direction: {
    id: 'plotting: plot-1 to vault',
    path: 'plotting',
    from: 'plot-1',
    to: 'vault',
    toAddress: '198.18.20.9',
    leavesBy: 'plot-1:desk',
    declaredPorts: ['plot-1:desk'],
    leavesByDeclaredPort: true,
    declaredMtuBytes: 9000,
    routeMtuBytes: 9000,
    sessionBytes: 9000,
    farEndSmall: false,
    narrowestPort: 'vault:eth4',
    routedWhole: true,
    senderBytes: 9000,
    fitAsked: true,
    isProven: true,
    provenMtuBytes: 9000,
    declaredMtuPassed: true,
    provenAgeHours: 0,
    provenOn: '2026-11-24',
    proofSays: '2026-11-24: 9000 bytes pass',
    proofAgrees: true,
    isMeasured: true,
    measuredGoodputMbps: 9100,
    declaredGoodputReached: true,
    measuredOn: '2026-11-24',
    declaredGoodputMbps: 9500,
  },
};

const met = (rule: string, name: string, more: Partial<Case> = {}): Case => ({
  rule,
  name,
  outcome: 'met',
  ...more,
});
const broken = (rule: string, name: string, facts: Facts, more: Partial<Case> = {}): Case => ({
  rule,
  name,
  outcome: 'broken',
  facts,
  ...more,
});
const unknown = (rule: string, unread: readonly string[], more: Partial<Case> = {}): Case => ({
  rule,
  name: `${unread.join(', ')} not read`,
  outcome: 'undetermined',
  unread,
  ...more,
});
const silent = (rule: string, name: string, more: Partial<Case>): Case => ({
  rule,
  name,
  outcome: 'notApplicable',
  ...more,
});

const unreadPort: Partial<Case> = {
  facts: { unread: true },
  unread: ['found', 'operUp', 'adminUp', 'virtual', 'speedMbps', 'duplex', 'mtuBytes'],
};
const missingPort: Partial<Case> = {
  facts: { found: false },
  unread: ['operUp', 'adminUp', 'virtual', 'speedMbps', 'duplex', 'carriesDeclaredMtu'],
};
const downPort: Partial<Case> = { facts: { operUp: false }, unread: ['speedMbps', 'duplex'] };
const link = 'link vault:eth4 - quay-sw:xg3';

const everything = await loadShipped('essential', 'jumbo', 'cabling', 'signal', 'proven');

describe('a fact that a shipped condition asks for', () => {
  const asked = everything.flatMap(({ rules }) =>
    rules.flatMap(({ judges, when, holds }) =>
      [...(when?.facts ?? []), ...holds.facts].map((name) => [judges, name] as const),
    ),
  );

  it.each([...new Map(asked.map((each) => [each.join('.'), each])).values()])(
    'has words for not being known: %s.%s',
    (kind, name) => {
      expect(dictionary[kind][name]?.label).toMatch(
        /^(whether|which|what|how|at|in|the) [^.]{8,}$/,
      );
    },
  );
});

const cases: readonly Case[] = [
  met('proven-clearance', 'a declared packet that was shown to pass'),
  broken(
    'proven-clearance',
    'one that was lost, and no setting tells why',
    {
      declaredMtuPassed: false,
      proofSays: '2026-11-24: 1500 bytes pass, 2000 do not',
    },
    {
      cause: 'mtu plotting',
      advice: 'run hopgauge survey --out FILE, then hopgauge fit plot-1 vault --survey FILE: it',
      what: 'does not pass the declared 9000 bytes. Fit of 2026-11-24: 1500 bytes pass, 2000 do not',
    },
  ),
  broken(
    'proven-clearance',
    'one that was lost where a small hop is known',
    { declaredMtuPassed: false, smallPort: 'quay-sw:xg2' },
    { cause: 'mtu quay-sw:xg2', advice: 'raise quay-sw:xg2 so that 9000 bytes pass, ' },
  ),
  unknown('proven-clearance', ['declaredMtuPassed'], {
    cause: 'node vault',
    what: 'cannot be judged: whether packets of the declared size were shown to pass is not known (no answer)',
  }),
  met('proven-clearance', 'one that was shown to pass and not asked for', {
    facts: { fitAsked: false },
  }),
  silent('proven-clearance', 'a path that nobody asked to prove, and nobody did', {
    facts: { fitAsked: false, isProven: false },
    unread: ['declaredMtuPassed', 'provenMtuBytes', 'provenAgeHours'],
  }),
  silent('proven-clearance', 'no declared packet', { none: ['declaredMtuBytes'] }),

  met('proof-agrees-with-facts', 'what was read and what was shown'),
  broken(
    'proof-agrees-with-facts',
    'a hop that says what is not so',
    {
      proofAgrees: false,
      proofAgainst: 'every hop that is declared says that 9000 bytes pass, and 2000 do not',
      proofSays: '2026-11-24: 1500 bytes pass, 2000 do not',
    },
    {
      cause: 'mtu plotting',
      what: 'every hop that is declared says that 9000 bytes pass, and 2000 do not. Fit of 2026-11-24: 1500 bytes pass, 2000 do not',
    },
  ),
  unknown('proof-agrees-with-facts', ['proofAgrees'], { cause: 'node vault' }),
  silent('proof-agrees-with-facts', 'no fit', { none: ['proofAgrees'] }),

  met('proof-is-fresh', 'a fit of this night'),
  met('proof-is-fresh', 'one of a week ago', { facts: { provenAgeHours: 168 } }),
  broken(
    'proof-is-fresh',
    'one of more than a week ago',
    { provenAgeHours: 169, provenOn: '2026-11-17' },
    { what: 'a fit is asked for every night, and the last one is of 2026-11-17' },
  ),
  unknown('proof-is-fresh', ['provenAgeHours'], { cause: 'node vault' }),
  silent('proof-is-fresh', 'a fit that nobody asks for', { facts: { fitAsked: false } }),

  met('measured-goodput', 'a transfer that lost a twentieth at most', {
    facts: { measuredGoodputMbps: 9025, declaredGoodputReached: true },
  }),
  broken(
    'measured-goodput',
    'a slow one',
    { measuredGoodputMbps: 940, declaredGoodputReached: false },
    { what: 'a transfer of 2026-11-24 brought 940 Mb/s of the declared 9.5 Gb/s' },
  ),
  unknown('measured-goodput', ['isMeasured'], { cause: 'node vault' }),
  unknown('measured-goodput', ['measuredGoodputMbps', 'declaredGoodputReached']),
  silent('measured-goodput', 'a path that nobody measured', {
    facts: { isMeasured: false },
    unread: ['measuredGoodputMbps', 'declaredGoodputReached'],
  }),
  silent('measured-goodput', 'no declared goodput', { none: ['declaredGoodputMbps'] }),

  met('node-read', 'a node that answered'),
  broken(
    'node-read',
    'a node without an answer',
    { read: false, trouble: 'no answer in 10 s', remedy: 'see that it is on' },
    { cause: 'node vault', what: 'could not be read: no answer in 10 s' },
  ),
  unknown('node-read', ['read'], {
    cause: 'node vault',
    what: 'cannot be judged: whether it can be read is not known (no answer)',
  }),
  silent('node-read', 'a node that nobody logs in to', {
    facts: { unread: true },
    unread: ['read'],
  }),

  met('right-machine', 'a node without contradictions'),
  broken(
    'right-machine',
    'another host key',
    { contradictions: ['host key SHA256:b, known is SHA256:a'] },
    { cause: 'node vault' },
  ),
  unknown('right-machine', ['contradictions'], { cause: 'node vault' }),
  silent('right-machine', 'a node that nobody logs in to', {
    facts: { unread: true },
    unread: ['contradictions'],
  }),

  met('accesses-agree', 'two accesses that agree'),
  broken(
    'accesses-agree',
    'two that disagree',
    { disagreements: ['eth4 mtuBytes: 9000 (ip) against 1500 (ifMtu)'] },
    { what: 'its accesses disagree on eth4 mtuBytes: 9000 (ip) against 1500 (ifMtu)' },
  ),
  unknown('accesses-agree', ['disagreements']),
  silent('accesses-agree', 'one access', { none: ['disagreements'] }),

  met('live-ports-declared', 'no port left over'),
  broken(
    'live-ports-declared',
    'two ports left over',
    { undeclaredLivePorts: ['g1', 'g2'] },
    { what: 'live ports that no link of the intent names: 2 (g1, g2)' },
  ),
  unknown('live-ports-declared', ['undeclaredLivePorts'], { cause: 'node vault' }),
  silent('live-ports-declared', 'a node in no link', { none: ['undeclaredLivePorts'] }),

  met('port-found', 'a port that is there'),
  broken(
    'port-found',
    'a port that is not',
    { found: false, nearestName: 'eth5' },
    { cause: 'port vault:eth4', what: 'vault has no such port' },
  ),
  unknown('port-found', ['found'], { cause: 'node vault' }),
  silent('port-found', 'a port that nobody reads', unreadPort),
  silent('port-found', 'a layer above a port', { facts: { linked: false } }),

  met('port-keeps-name', 'a port under its declared name'),
  broken(
    'port-keeps-name',
    'the same adapter under another name',
    { nameAsDeclared: false, declaredName: 'eth4', name: 'enp3s0' },
    {
      cause: 'name of port vault:eth4',
      what: 'the intent calls it eth4, vault calls it enp3s0: the same adapter, by its MAC address',
    },
  ),
  unknown('port-keeps-name', ['nameAsDeclared'], { cause: 'node vault' }),
  silent('port-keeps-name', 'a port declared without its address', { none: ['declaredName'] }),
  silent('port-keeps-name', 'a port that nobody reads', unreadPort),
  silent('port-keeps-name', 'a port that is not there', missingPort),

  met('port-enabled', 'a port that is switched on'),
  broken(
    'port-enabled',
    'a port that is switched off',
    { adminUp: false, operUp: false },
    { cause: link },
  ),
  unknown('port-enabled', ['adminUp'], { cause: 'node vault' }),
  silent('port-enabled', 'a port that nobody reads', unreadPort),
  silent('port-enabled', 'a port that is not there', missingPort),

  met('port-up', 'a port with link'),
  broken(
    'port-up',
    'a port without link',
    { operUp: false },
    { cause: link, what: 'no link, where the intent declares one to quay-sw:xg3' },
  ),
  unknown('port-up', ['operUp'], { cause: 'node vault' }),
  silent('port-up', 'a port that is switched off', { facts: { adminUp: false, operUp: false } }),
  silent('port-up', 'the port of a laptop that sleeps', {
    facts: { mayBeDown: true, operUp: false },
  }),
  silent('port-up', 'a port that nobody reads', unreadPort),
  silent('port-up', 'a port that is not there', missingPort),

  met('speed-as-declared', 'the declared speed'),
  met('speed-as-declared', 'more than the declared speed', { facts: { declaredSpeedMbps: 2500 } }),
  broken(
    'speed-as-declared',
    'a tenth of it',
    { speedMbps: 1000 },
    { cause: link, what: 'runs at 1 Gb/s, declared 10 Gb/s' },
  ),
  unknown('speed-as-declared', ['speedMbps'], { cause: 'node vault' }),
  unknown('speed-as-declared', ['virtual'], { cause: 'node vault' }),
  silent('speed-as-declared', 'no declared speed', { none: ['declaredSpeedMbps'] }),
  silent('speed-as-declared', 'a port without link', downPort),
  silent('speed-as-declared', 'a virtual port that claims 10 Gb/s', {
    facts: { virtual: true, declaredSpeedMbps: 25_000 },
  }),
  silent('speed-as-declared', 'a port that nobody reads', unreadPort),
  silent('speed-as-declared', 'a port that is not there', missingPort),

  met('duplex-full', 'full duplex'),
  met('duplex-full', 'half duplex as declared', {
    facts: { speedMbps: 10, duplex: 'half', declaredDuplex: 'half' },
  }),
  met('duplex-full', 'an agent that says nothing at 10 Gb/s', { unread: ['duplex'] }),
  broken(
    'duplex-full',
    'half duplex at 100 Mb/s',
    { speedMbps: 100, duplex: 'half' },
    { cause: link, what: 'runs in half duplex, declared full' },
  ),
  unknown('duplex-full', ['duplex'], { facts: { speedMbps: 100 }, cause: 'node vault' }),
  silent('duplex-full', 'a port without link', downPort),
  silent('duplex-full', 'a virtual port', {
    facts: { virtual: true, speedMbps: 100, duplex: 'half' },
  }),
  silent('duplex-full', 'a port that nobody reads', unreadPort),

  met('ends-same-speed', 'one speed'),
  broken(
    'ends-same-speed',
    'two speeds',
    { speedsEqual: false, speedsMbps: [10_000, 1000] },
    {
      cause: link,
      what: 'runs at different speeds at its ends: 10 Gb/s, 1 Gb/s at vault:eth4, quay-sw:xg3',
    },
  ),
  unknown('ends-same-speed', ['speedsEqual'], { cause: 'node vault' }),
  unknown('ends-same-speed', ['judged'], { cause: 'node vault' }),
  silent('ends-same-speed', 'an end that is down, virtual or unread', { facts: { judged: false } }),

  met('ends-same-duplex', 'one duplex'),
  met('ends-same-duplex', 'an agent that says nothing at 10 Gb/s', { unread: ['duplexesEqual'] }),
  broken(
    'ends-same-duplex',
    'full against half',
    { duplexesEqual: false, duplexes: ['full', 'half'], speedsMbps: [100, 100] },
    {
      cause: link,
      what: 'runs in different duplex at its ends: full, half at vault:eth4, quay-sw:xg3',
    },
  ),
  unknown('ends-same-duplex', ['duplexesEqual'], {
    facts: { speedsMbps: [100, 100] },
    cause: 'node vault',
  }),
  silent('ends-same-duplex', 'an end that is down, virtual or unread', {
    facts: { judged: false },
  }),

  met('segment-agrees', 'one MTU'),
  broken(
    'segment-agrees',
    'an odd one',
    {
      addressedMtusEqual: false,
      addressedMtusBytes: [9000, 1500],
      oddPort: 'vault:bond0',
      portToRaise: 'vault:bond0',
      oddPorts: ['vault:bond0'],
    },
    {
      cause: 'mtu vault:bond0',
      what: 'interfaces with an address disagree on the MTU; odd: vault:bond0; all: plot-1:desk, vault:bond0 with 9000, 1500 bytes, declared 9000',
    },
  ),
  unknown('segment-agrees', ['addressedMtusEqual'], { cause: 'node vault' }),
  silent('segment-agrees', 'nobody with an address', { facts: { addressedPorts: [] } }),

  met('switch-carries-segment', 'a switch at 9216 under 9000', {
    facts: { onSwitch: true, mtuBytes: 9216 },
  }),
  met('switch-carries-segment', 'an unread switch on the word of the owner', {
    ...unreadPort,
    facts: { onSwitch: true, unread: true },
  }),
  broken(
    'switch-carries-segment',
    'a switch at 1500',
    { onSwitch: true, carriesDeclaredMtu: false, passesAtMostBytes: 1500 },
    { cause: 'mtu vault:eth4' },
  ),
  unknown('switch-carries-segment', ['carriesDeclaredMtu'], {
    facts: { onSwitch: true },
    cause: 'node vault',
  }),
  silent('switch-carries-segment', 'a port of a host', { facts: { carriesDeclaredMtu: false } }),
  silent('switch-carries-segment', 'no declared packet', {
    facts: { onSwitch: true },
    none: ['declaredMtuBytes', 'carriesDeclaredMtu'],
  }),
  silent('switch-carries-segment', 'a port that is not there', {
    ...missingPort,
    facts: { found: false, onSwitch: true },
  }),

  met('path-joined', 'ends that links join'),
  broken(
    'path-joined',
    'ends that no link joins',
    { connected: false },
    {
      cause: 'path plotting is not joined',
      what: 'the declared links do not join plot-1 and vault',
    },
  ),
  unknown('path-joined', ['connected']),

  met('passes-what-is-sent', 'ends as large as every hop'),
  broken(
    'passes-what-is-sent',
    'ends at 9000 over a switch at 1500, as declared',
    {
      passesWhatIsSent: false,
      sentBytes: 9000,
      stallsAt: 'quay-sw:xg3',
      stallsUntilRaised: 'quay-sw:xg3',
      stallsAboveBytes: 1500,
    },
    {
      cause: 'mtu quay-sw:xg3',
      what: 'both ends send packets of up to 9000 bytes over TCP, and quay-sw:xg3 silently drops those above 1500: transfers (SMB, NFS, SSH) stall there; logins, small requests and pings pass',
    },
  ),
  unknown('passes-what-is-sent', ['passesWhatIsSent'], { cause: 'node vault' }),
  silent('passes-what-is-sent', 'a path that does not carry what is declared', {
    none: ['passesWhatIsSent'],
  }),

  met('goodput-in-reach', 'a ceiling above what is wanted'),
  broken(
    'goodput-in-reach',
    'a gigabit in the way',
    { goodputInReach: false, goodputLacks: 'speed', slowestMbps: 1000, goodputAtMostMbps: 990 },
    {
      cause: link,
      what: '9.5 Gb/s of TCP data are wanted; at 1 Gb/s of quay-sw:xg3 and with packets of 9000 bytes one flow carries at most 990 Mb/s',
    },
  ),
  broken(
    'goodput-in-reach',
    'packets of 1500 bytes where 9000 would do',
    {
      goodputInReach: false,
      goodputLacks: 'packet',
      mtuAtMostBytes: 1500,
      goodputAtMostMbps: 9414,
    },
    { cause: 'mtu vault:eth4' },
  ),
  broken(
    'goodput-in-reach',
    'a faster way that is blocked',
    { goodputInReach: false, goodputLacks: 'way', slowestMbps: 1000, goodputAtMostMbps: 990 },
    { cause: 'spanning tree of plotting' },
  ),
  unknown('goodput-in-reach', ['goodputInReach'], { cause: 'node vault' }),
  silent('goodput-in-reach', 'nothing that is wanted', { none: ['goodputInReach'] }),

  met('leaves-as-declared', 'traffic by the declared port'),
  broken(
    'leaves-as-declared',
    'traffic by another port',
    { leavesByDeclaredPort: false, leavesBy: 'plot-1:en0' },
    { what: 'traffic for vault (198.18.20.9) leaves by plot-1:en0; declared: plot-1:desk' },
  ),
  broken(
    'leaves-as-declared',
    'traffic by another port while the declared link is down',
    {
      leavesByDeclaredPort: false,
      leavesBy: 'plot-1:en0',
      lostLink: 'plot-1:desk - quay-sw:xg2',
    },
    { cause: 'link plot-1:desk - quay-sw:xg2' },
  ),
  unknown('leaves-as-declared', ['leavesByDeclaredPort'], { cause: 'node vault' }),
  silent('leaves-as-declared', 'a sender without declared links', {
    none: ['leavesByDeclaredPort'],
  }),

  met('path-clearance', 'a path that carries it'),
  met('path-clearance', '1500 everywhere, declared 1500', {
    facts: { declaredMtuBytes: 1500, mtuAtMostBytes: 1500 },
  }),
  broken(
    'path-clearance',
    'a narrow hop',
    {
      carriesDeclaredMtu: false,
      mtuAtMostBytes: 1500,
      narrowestPort: 'quay-sw:xg3',
      portToRaise: 'quay-sw:xg3',
      effects: 'Both ways: transfers stall',
    },
    {
      cause: 'mtu quay-sw:xg3',
      what: 'carries at most 1500 of the declared 9000 bytes; quay-sw:xg3 is the narrowest hop. Both ways: transfers stall',
    },
  ),
  unknown('path-clearance', ['carriesDeclaredMtu'], { cause: 'node vault' }),
  silent('path-clearance', 'no declared packet', {
    none: ['declaredMtuBytes', 'carriesDeclaredMtu'],
  }),
  silent('path-clearance', 'ends that no link joins', {
    facts: { connected: false },
    unread: ['carriesDeclaredMtu'],
  }),

  met('port-clearance', 'a port that passes it'),
  met('port-clearance', 'an unread port on the word of the owner', unreadPort),
  broken(
    'port-clearance',
    'a port at 1500',
    { carriesDeclaredMtu: false, passesAtMostBytes: 1500 },
    { cause: 'mtu vault:eth4', what: 'passes at most 1500 of the declared 9000 bytes' },
  ),
  unknown('port-clearance', ['carriesDeclaredMtu'], { cause: 'node vault' }),
  silent('port-clearance', 'no declared packet', {
    none: ['declaredMtuBytes', 'carriesDeclaredMtu'],
  }),
  silent('port-clearance', 'a port that is not there', missingPort),

  met('layers-carry', 'layers that carry it'),
  broken(
    'layers-carry',
    'a small lowest layer',
    { smallestLayer: 'vault:eth5', smallestLayerMtuBytes: 1500, portToRaise: 'vault:eth5' },
    {
      cause: 'mtu vault:eth5',
      what: 'stands on vault:eth5 with an MTU of 1500 bytes, declared 9000',
    },
  ),
  unknown('layers-carry', ['smallestLayerMtuBytes'], { cause: 'node vault' }),
  silent('layers-carry', 'a port on nothing', { none: ['smallestLayer', 'smallestLayerMtuBytes'] }),
  silent('layers-carry', 'a switch, whose numbers count otherwise', {
    facts: { onSwitch: true, smallestLayerMtuBytes: 1500 },
  }),
  silent('layers-carry', 'no declared packet', { none: ['declaredMtuBytes'] }),

  met('os-recent-enough', 'a later version'),
  broken(
    'os-recent-enough',
    'an earlier version',
    { osVersion: '14.4', osRecentEnough: false },
    { what: 'runs version 14.4 of its system, declared at least 14.5' },
  ),
  unknown('os-recent-enough', ['osRecentEnough'], { cause: 'node vault' }),
  silent('os-recent-enough', 'none declared', { none: ['declaredOsAtLeast', 'osRecentEnough'] }),
  silent('os-recent-enough', 'a node that nobody reads', { facts: { unread: true } }),

  met('driver-recent-enough', 'a later version'),
  broken(
    'driver-recent-enough',
    'an earlier version',
    { driverVersion: '3.0.9', driverRecentEnough: false },
    { what: 'its driver is version 3.0.9, declared at least 3.1' },
  ),
  unknown('driver-recent-enough', ['driverRecentEnough'], { cause: 'node vault' }),
  silent('driver-recent-enough', 'none declared', {
    none: ['declaredDriverAtLeast', 'driverRecentEnough'],
  }),
  silent('driver-recent-enough', 'a port that is not there', missingPort),

  met('members-up', 'an aggregate whose members are up'),
  broken(
    'members-up',
    'a member without link',
    { membersDownPorts: ['vault:eth5'], membersDownLink: 'vault:eth5 - quay-sw:Port 4' },
    { cause: 'link vault:eth5 - quay-sw:Port 4' },
  ),
  broken(
    'members-up',
    'a member in no declared link',
    { membersDownPorts: ['vault:eth5'] },
    { cause: 'members-up vault:eth4' },
  ),
  unknown('members-up', ['membersDownPorts'], { cause: 'node vault' }),
  silent('members-up', 'no aggregate', { none: ['membersDownPorts'] }),

  met('sessions-full-size', 'sessions of full size'),
  broken(
    'sessions-full-size',
    'small sessions',
    { farEndSmall: true, sessionBytes: 1500, smallPort: 'vault:eth4' },
    { cause: 'mtu vault:eth4' },
  ),
  broken(
    'sessions-full-size',
    'small sessions over hops that all carry it',
    { farEndSmall: true, sessionBytes: 1500 },
    { cause: 'sessions-full-size plotting: plot-1 to vault' },
  ),
  unknown('sessions-full-size', ['farEndSmall'], { cause: 'node vault' }),
  silent('sessions-full-size', 'no session', { none: ['farEndSmall', 'sessionBytes'] }),

  met('route-full-size', 'a route that carries it'),
  broken(
    'route-full-size',
    'a route at 1500',
    { routeMtuBytes: 1500 },
    { what: 'the route to vault carries an MTU of 1500 bytes, declared 9000' },
  ),
  unknown('route-full-size', ['routeMtuBytes'], { cause: 'node vault' }),
  silent('route-full-size', 'a route without an MTU', { none: ['routeMtuBytes'] }),
  silent('route-full-size', 'no declared packet', { none: ['declaredMtuBytes'] }),

  met('run-carries-speed', 'a run that carries it', { facts: { runsAsDeclared: false } }),
  broken(
    'run-carries-speed',
    'a cord of a lower category',
    {
      runsAsDeclared: false,
      runFits: false,
      runReachMbps: 1000,
      runLimitText: 'cord cat5e 5 m: 10GBASE-T is not specified for cat5e',
      labels: 'L-03, D/3',
    },
    {
      cause: link,
      what: 'declared 10 Gb/s over a run that does not carry it: cord cat5e 5 m: 10GBASE-T is not specified for cat5e',
    },
  ),
  unknown('run-carries-speed', ['runFits'], { facts: { runsAsDeclared: false } }),
  silent('run-carries-speed', 'no run, or none that tells', {
    facts: { runsAsDeclared: false },
    none: ['runFits'],
  }),
  silent('run-carries-speed', 'no declared speed', { none: ['declaredSpeedMbps', 'runFits'] }),
  silent('run-carries-speed', 'a link that is seen to run at its speed', {
    facts: { runFits: false },
  }),

  met('run-within-standard', 'a run that carries what it runs at'),
  broken(
    'run-within-standard',
    'a run that works and is not specified',
    { runFits: false, runLimitText: 'cord cat5e 5 m: 10GBASE-T is not specified for cat5e' },
    {
      cause: link,
      what: 'runs at 10 Gb/s over a run that is not specified for it: cord cat5e 5 m: 10GBASE-T is not specified for cat5e',
    },
  ),
  unknown('run-within-standard', ['runFits']),
  silent('run-within-standard', 'a link that is slower than declared', {
    facts: { runsAsDeclared: false, runFits: false },
  }),

  met('modules-agree', 'modules of one kind'),
  broken(
    'modules-agree',
    'a short-reach module against a long-reach one',
    {
      modulesAgree: false,
      runLimitText: 'module 10GBASE-LR: 10GBASE-LR at one end and 10GBASE-SR at the other',
    },
    {
      cause: link,
      what: 'its modules do not work together or not with the cable between them: module 10GBASE-LR: 10GBASE-LR at one end and 10GBASE-SR at the other',
    },
  ),
  unknown('modules-agree', ['modulesAgree']),
  silent('modules-agree', 'no modules', { none: ['modulesAgree'] }),

  met('medium-as-declared', 'the declared medium'),
  broken(
    'medium-as-declared',
    'copper where fibre is declared',
    { mediumAsDeclared: false, mediumSaid: ['vault:eth4 10GBASE-T'] },
    {
      cause: link,
      what: 'the ends name another medium than the declared run has: vault:eth4 10GBASE-T',
    },
  ),
  unknown('medium-as-declared', ['mediumAsDeclared'], { cause: 'node vault' }),
  silent('medium-as-declared', 'ends that do not say', { none: ['mediumAsDeclared'] }),

  met('cable-carries-offer', 'a link that nothing limits'),
  met('cable-carries-offer', 'a link that a setting limits', { facts: { limitKind: 'setting' } }),
  broken(
    'cable-carries-offer',
    'a downshift',
    { limitKind: 'cable', limitedBy: 'cable or connector' },
    {
      cause: link,
      what: 'both ends offer 10 Gb/s and run below it: the cable or a connector',
    },
  ),
  unknown('cable-carries-offer', ['limitKind']),
  silent('cable-carries-offer', 'lists that do not tell', { facts: { limitKind: 'unknown' } }),

  met('setting-allows-speed', 'a link that nothing limits'),
  broken(
    'setting-allows-speed',
    'an end that offers less than it can',
    { limitKind: 'setting', limitedBy: 'configuration of quay-sw:xg3' },
    {
      cause: link,
      what: 'declared 10 Gb/s, held back by the configuration of quay-sw:xg3',
    },
  ),
  unknown('setting-allows-speed', ['limitKind']),
  silent('setting-allows-speed', 'no declared speed', {
    facts: { limitKind: 'setting' },
    none: ['declaredSpeedMbps'],
  }),

  met('ends-capable', 'a link that nothing limits'),
  broken(
    'ends-capable',
    'an end that cannot',
    { limitKind: 'capability', limitedBy: 'capability of vault:eth4' },
    { cause: link, what: 'declared 10 Gb/s, held back by the capability of vault:eth4' },
  ),
  unknown('ends-capable', ['limitKind']),
  silent('ends-capable', 'no declared speed', {
    facts: { limitKind: 'capability' },
    none: ['declaredSpeedMbps'],
  }),

  met('errors-within-limit', 'no error'),
  met('errors-within-limit', 'too little traffic to tell', {
    facts: { errorVerdict: 'cannot-tell-yet', rxCrcErrors: 2 },
  }),
  broken(
    'errors-within-limit',
    'many errors in little traffic',
    { errorVerdict: 'worse-than-limit', brokenFrames: 300 },
    {
      cause: link,
      what: 'receives more errors than its PHY may make: 300 broken frames beside 4000000 good ones, since its counters began',
    },
  ),
  unknown('errors-within-limit', ['errorVerdict'], { cause: 'node vault' }),
  silent('errors-within-limit', 'errors that nobody counts', { none: ['errorVerdict'] }),
  silent('errors-within-limit', 'a layer above a port', {
    facts: { linked: false, errorVerdict: 'worse-than-limit' },
  }),

  met('light-within-limits', 'enough light'),
  broken(
    'light-within-limits',
    'too little light',
    { rxPowerVerdict: 'low', rxPowerDbm: -17.2 },
    { cause: link, what: 'the light that it receives is out of limits: low, -17.2 dBm' },
  ),
  unknown('light-within-limits', ['rxPowerVerdict'], { cause: 'node vault' }),
  silent('light-within-limits', 'no optic', { none: ['rxPowerVerdict'] }),
  silent('light-within-limits', 'the port of a laptop that sleeps', {
    facts: { mayBeDown: true, rxPowerVerdict: 'no-light' },
  }),

  met('stays-up', 'a link that stays up'),
  met('stays-up', 'just below three losses a day', { facts: { linkChangesPerDay: 5.99 } }),
  broken(
    'stays-up',
    'three losses a day',
    { linkChangesPerDay: 6 },
    { cause: link, what: 'its link comes and goes: 6 changes a day' },
  ),
  unknown('stays-up', ['linkChangesPerDay'], { cause: 'node vault' }),
  silent('stays-up', 'changes that nobody counts', { none: ['linkChangesPerDay'] }),

  met('no-energy-saving-where-it-flaps', 'flaps without energy saving', {
    facts: { linkChangesPerDay: 12 },
  }),
  broken(
    'no-energy-saving-where-it-flaps',
    'flaps with energy saving',
    { linkChangesPerDay: 12, eeeActive: true },
    { cause: link, what: 'energy saving (EEE) is in use on a link that comes and goes' },
  ),
  unknown('no-energy-saving-where-it-flaps', ['eeeActive'], {
    facts: { linkChangesPerDay: 12 },
    cause: 'node vault',
  }),
  silent('no-energy-saving-where-it-flaps', 'energy saving on a link that stays up', {
    facts: { eeeActive: true },
  }),

  met('partner-negotiates', 'full duplex'),
  broken(
    'partner-negotiates',
    'half duplex by parallel detection',
    { speedMbps: 100, duplex: 'half', halfDuplexSuspect: true },
    {
      cause: link,
      what: 'took half duplex, and quay-sw:xg3 seems to run full duplex without negotiating',
    },
  ),
  unknown('partner-negotiates', ['halfDuplexSuspect'], { cause: 'node vault' }),
  silent('partner-negotiates', 'half duplex as declared', {
    facts: { declaredDuplex: 'half', halfDuplexSuspect: true },
  }),

  met('bus-feeds-port', 'a bus with enough lanes'),
  broken(
    'bus-feeds-port',
    'one lane for ten gigabits',
    { busFeedsPort: false, busText: 'PCIe 8.0 GT/s x1' },
    {
      cause: 'bus of vault:eth4',
      what: 'its bus carries too little for it: PCIe 8.0 GT/s x1',
    },
  ),
  unknown('bus-feeds-port', ['busFeedsPort'], { cause: 'node vault' }),
  silent('bus-feeds-port', 'a bus that is not told', { none: ['busFeedsPort'] }),

  met('ends-share-subnet', 'a cable in a subnet of its own'),
  broken(
    'ends-share-subnet',
    'a cable without addresses at one end',
    {
      endsShareSubnet: false,
      endAddresses: ['plot-1:en7 198.18.20.1/24', 'vault:eth4 no address'],
    },
    {
      cause: link,
      what: 'the hosts that it joins have no common subnet on it: plot-1:en7 198.18.20.1/24, vault:eth4 no address',
    },
  ),
  unknown('ends-share-subnet', ['endsShareSubnet'], { cause: 'node vault' }),
  silent('ends-share-subnet', 'a switch at one end', { none: ['endsShareSubnet'] }),

  met('members-carry', 'a bridge whose members are all large'),
  broken(
    'members-carry',
    'a virtual machine at 1500',
    { id: 'vault:br0', smallMembers: ['vault:tap0'], portToRaise: 'vault:tap0' },
    { cause: 'mtu vault:tap0' },
  ),
  unknown('members-carry', ['smallMembers'], { cause: 'node vault' }),
  silent('members-carry', 'no bridge', { none: ['smallMembers'] }),

  met('device-can-packet', 'a driver that accepts more'),
  broken(
    'device-can-packet',
    'a driver that accepts 1500',
    { canDeclaredMtu: false, mtuMaxBytes: 1500 },
    {
      cause: 'mtu vault:eth4',
      what: 'its driver accepts at most 1500 bytes, declared 9000: no setting raises it further',
    },
  ),
  unknown('device-can-packet', ['canDeclaredMtu'], { cause: 'node vault' }),
  silent('device-can-packet', 'a driver that names no maximum', { none: ['canDeclaredMtu'] }),

  met('driver-allows-packet', 'a driver set to large frames'),
  broken(
    'driver-allows-packet',
    'a driver set to 1500',
    { driverAllowsMtu: false, driverMtuBytes: 1500 },
    { cause: 'mtu vault:eth4' },
  ),
  unknown('driver-allows-packet', ['driverAllowsMtu'], { cause: 'node vault' }),
  silent('driver-allows-packet', 'no such setting', { none: ['driverAllowsMtu'] }),

  met('wireless-off-large-segment', 'a port with a cable'),
  broken(
    'wireless-off-large-segment',
    'a tablet on the radio',
    { wireless: true },
    {
      cause: 'mtu vault:eth4',
      what: 'is wireless, where 9000 bytes are declared: no setting gives it such packets',
    },
  ),
  unknown('wireless-off-large-segment', ['wireless'], { cause: 'node vault' }),
  silent('wireless-off-large-segment', 'a segment of 1500', {
    facts: { declaredMtuBytes: 1500, wireless: true },
  }),
  silent('wireless-off-large-segment', 'packets that a radio can carry', {
    facts: { declaredMtuBytes: 2304, wireless: true },
  }),

  met('mtu-setting-in-force', 'the setting in use'),
  broken(
    'mtu-setting-in-force',
    '9000 configured, 1500 in use',
    { mtuAsConfigured: false, mtuBytes: 1500 },
    {
      cause: 'mtu vault:eth4',
      what: 'its configuration asks for 9000 bytes, and 1500 are in use',
    },
  ),
  unknown('mtu-setting-in-force', ['mtuAsConfigured'], { cause: 'node vault' }),
  silent('mtu-setting-in-force', 'a system that keeps one number', { none: ['mtuAsConfigured'] }),

  met('tag-has-room', 'a driver that accepts more than the packet'),
  broken(
    'tag-has-room',
    'a driver that accepts the packet and no tag',
    { id: 'vault:eth4.20', tagHasRoom: false },
    { cause: 'tag on vault:eth4' },
  ),
  unknown('tag-has-room', ['tagHasRoom'], { cause: 'node vault' }),
  silent('tag-has-room', 'a driver that names no maximum', { none: ['tagHasRoom'] }),

  met('tunnel-has-room', 'a port with room for the tunnel'),
  broken(
    'tunnel-has-room',
    'a VXLAN of 9000 on 9000',
    { id: 'vault:vx0', underlayMtuBytes: 9000 },
    {
      cause: 'mtu vault:eth4',
      what: 'is a tunnel that adds 50 bytes: vault:eth4 must pass 9050 and has an MTU of 9000',
    },
  ),
  unknown('tunnel-has-room', ['underlayMtuBytes'], { cause: 'node vault' }),
  silent('tunnel-has-room', 'no tunnel', { none: ['tunnelNeedsBytes', 'underlayMtuBytes'] }),

  met('aggregate-one-mtu', 'a member as its aggregate'),
  broken(
    'aggregate-one-mtu',
    'a member at 1500 under an aggregate at 9000',
    { mtuAsAggregate: false, mtuBytes: 1500 },
    { cause: 'mtu vault:eth4' },
  ),
  unknown('aggregate-one-mtu', ['mtuAsAggregate'], { cause: 'node vault' }),
  silent('aggregate-one-mtu', 'member of none', { none: ['mtuAsAggregate'] }),

  met('fast-enough-for-large', 'a port at 10 Gb/s'),
  broken(
    'fast-enough-for-large',
    'a port at 100 Mb/s',
    { speedTakesLarge: false, speedMbps: 100 },
    { cause: link },
  ),
  unknown('fast-enough-for-large', ['speedTakesLarge'], { cause: 'node vault' }),
  silent('fast-enough-for-large', 'a port of a host', { none: ['speedTakesLarge'] }),

  met('no-router-shrinks', 'a router that passes it whole'),
  broken(
    'no-router-shrinks',
    'a router at 1500 after a sender at 9000',
    { routedWhole: false, shrinksAt: 'gate:em1', shrinksToBytes: 1500 },
    { cause: 'mtu gate:em1' },
  ),
  broken(
    'no-router-shrinks',
    'a small router on a path that should carry more',
    {
      routedWhole: false,
      shrinksAt: 'gate:em1.20',
      shrinksToBytes: 1500,
      smallPort: 'gate:em1',
    },
    { cause: 'mtu gate:em1' },
  ),
  unknown('no-router-shrinks', ['routedWhole'], { cause: 'node vault' }),
  silent('no-router-shrinks', 'no router on the way', { none: ['routedWhole'] }),

  met('end-negotiates', 'ends that negotiate'),
  // Half duplex by parallel detection is of 10 and 100 Mb/s alone (IEEE 802.3, 28.2.3.1 and 40.5.1).
  broken(
    'end-negotiates',
    'both ends fixed',
    { bothFixed: true },
    {
      cause: link,
      what: 'both ends are fixed by hand: over twisted pair a port that negotiates, put in the place of one of them, takes half duplex at 10 and 100 Mb/s and may find no link above',
    },
  ),
  unknown('end-negotiates', ['bothFixed'], { cause: 'node vault' }),
  silent('end-negotiates', 'fibre', { none: ['bothFixed'] }),

  met('pause-heeded', 'ends that agree on pause'),
  broken(
    'pause-heeded',
    'an end that ignores pauses',
    { pauseHeeded: false, pauseIgnoredBy: 'vault:eth4' },
    { cause: link, what: 'one end sends pause frames and vault:eth4 does not honour them' },
  ),
  unknown('pause-heeded', ['pauseHeeded'], { cause: 'node vault' }),
  silent('pause-heeded', 'an end that does not say', { none: ['pauseHeeded'] }),

  met('seldom-paused', 'no pauses'),
  met('seldom-paused', 'just below a hundredth of the time', { facts: { pausedShare: 0.0099 } }),
  broken(
    'seldom-paused',
    'a hundredth of the time',
    { pausedShare: 0.01, rxPauseFrames: 9_000_000 },
    { cause: link },
  ),
  unknown('seldom-paused', ['pausedShare'], { cause: 'node vault' }),
  silent('seldom-paused', 'pauses that nobody counts', { none: ['pausedShare'] }),
  met('neighbour-as-declared', 'the declared far end'),
  broken(
    'neighbour-as-declared',
    'another node, and the far end elsewhere',
    {
      neighbourDeclared: false,
      neighbour: 'gate:em0',
      foundOn: ['loft-sw:xg5'],
      movedLink: 'gate:em0 - loft-sw:xg5',
    },
    {
      cause: 'link gate:em0 - loft-sw:xg5',
      what: 'declared quay-sw:xg3, heard gate:em0 there; quay-sw:xg3 is found on loft-sw:xg5',
    },
  ),
  broken(
    'neighbour-as-declared',
    'another node, and the far end nowhere',
    { neighbourDeclared: false, neighbour: 'attic-sw 3', movedLink: 'vault:eth4 - quay-sw:xg3' },
    { none: ['foundOn'], cause: link, what: 'declared quay-sw:xg3, heard attic-sw 3 there' },
  ),
  unknown('neighbour-as-declared', ['neighbourDeclared'], { cause: 'node vault' }),
  silent('neighbour-as-declared', 'nothing is heard', { none: ['neighbourDeclared', 'neighbour'] }),
  silent('neighbour-as-declared', 'a port that nobody reads', unreadPort),

  met('far-end-in-place', 'heard here'),
  broken(
    'far-end-in-place',
    'heard elsewhere only',
    {
      farEndElsewhere: true,
      foundOn: ['loft-sw:xg5'],
      movedLink: 'vault:eth4 - quay-sw:xg3',
    },
    {
      none: ['neighbour', 'neighbourDeclared'],
      cause: link,
      what: 'quay-sw:xg3 is not heard here; it is found on loft-sw:xg5',
    },
  ),
  unknown('far-end-in-place', ['farEndElsewhere'], { cause: 'node vault' }),
  silent('far-end-in-place', 'heard nowhere', { none: ['farEndElsewhere', 'foundOn'] }),
  silent('far-end-in-place', 'told by what is heard here instead', {
    facts: { neighbourDeclared: false, farEndElsewhere: true },
  }),

  met('nothing-between', 'the far end itself'),
  broken(
    'nothing-between',
    'a telephone in the middle',
    { between: ['phone-12 port 1'] },
    {
      cause: link,
      what: 'quay-sw:xg3 is behind something that announces itself here: phone-12 port 1',
    },
  ),
  unknown('nothing-between', ['between'], { cause: 'node vault' }),
  silent('nothing-between', 'the far end is not heard', { none: ['between'] }),

  met('stations-behind', 'one station'),
  met('stations-behind', 'as many as are declared', { facts: { macsBehind: 9, behindAtMost: 9 } }),
  broken(
    'stations-behind',
    'more than are declared',
    { macsBehind: 4, farNode: 'labeller' },
    {
      cause: 'stations behind vault:eth4',
      what: '4 stations behind a port to labeller, where 1 may be: a switch that nobody declared, or virtual machines',
    },
  ),
  unknown('stations-behind', ['macsBehind'], { cause: 'node vault' }),
  silent('stations-behind', 'a port to a switch', { none: ['behindAtMost', 'macsBehind'] }),

  met('links-declared', 'no other link'),
  broken(
    'links-declared',
    'a cord that nobody declared',
    { undeclaredLinks: ['quay-sw:xg5 - loft-sw:xg3'] },
    {
      what: 'links between declared nodes that the intent does not name: quay-sw:xg5 - loft-sw:xg3',
    },
  ),
  unknown('links-declared', ['undeclaredLinks'], { cause: 'node vault' }),
  silent('links-declared', 'neighbours that were not read', { none: ['undeclaredLinks'] }),

  met('vlans-carried', 'all declared VLANs'),
  met('vlans-carried', 'all declared VLANs and one more', {
    facts: { vlansAsDeclared: false, vlansUnexpected: [1] },
  }),
  broken(
    'vlans-carried',
    'an untagged VLAN in the wrong place',
    { vlansAsDeclared: false, vlansMissing: [20], untaggedVlan: 1 },
    {
      cause: 'vlans of vault:eth4',
      what: 'does not carry VLAN 20 as declared; here untagged frames are in VLAN 1',
    },
  ),
  broken(
    'vlans-carried',
    'a tagged VLAN that is not there',
    { vlansAsDeclared: false, vlansMissing: [20] },
    { none: ['untaggedVlan'], what: 'does not carry VLAN 20 as declared' },
  ),
  unknown('vlans-carried', ['vlansAsDeclared'], { cause: 'node vault' }),
  silent('vlans-carried', 'VLANs that are not declared or not read', { none: ['vlansAsDeclared'] }),

  met('no-other-vlan', 'no other VLAN'),
  broken(
    'no-other-vlan',
    'another VLAN',
    { vlansAsDeclared: false, vlansUnexpected: [1, 30] },
    {
      cause: 'vlans of vault:eth4',
      what: 'carries VLAN 1, 30, which its link does not declare: two networks touch there',
    },
  ),
  unknown('no-other-vlan', ['vlansAsDeclared'], { cause: 'node vault' }),
  silent('no-other-vlan', 'VLANs that are not declared or not read', { none: ['vlansAsDeclared'] }),

  met('best-way-open', 'the fastest way'),
  met('best-way-open', 'one of two equal ways', { facts: { blockedPorts: ['loft-sw:xg2'] } }),
  broken(
    'best-way-open',
    'a detour',
    { takesBestWay: false, blockedPorts: ['loft-sw:xg1'], wayInUseMbps: 1000 },
    {
      cause: 'spanning tree of plotting',
      what: 'the spanning tree blocks loft-sw:xg1: traffic takes a way of 1 Gb/s, where one of 10 Gb/s is up',
    },
  ),
  broken(
    'best-way-open',
    'no way at all',
    { takesBestWay: false, blockedPorts: ['loft-sw:xg1'] },
    { none: ['wayInUseMbps'], what: 'the spanning tree blocks loft-sw:xg1; no way is left open' },
  ),
  unknown('best-way-open', ['takesBestWay'], { cause: 'node vault' }),
  silent('best-way-open', 'no spanning tree was read', { none: ['takesBestWay'] }),

  met('member-distributes', 'a member in step'),
  broken(
    'member-distributes',
    'a member that nobody answers',
    { memberDistributes: false },
    {
      cause: link,
    },
  ),
  broken(
    'member-distributes',
    'a member that leads elsewhere',
    { memberDistributes: false, movedLink: 'gate:em0 - loft-sw:xg5' },
    { cause: 'link gate:em0 - loft-sw:xg5' },
  ),
  unknown('member-distributes', ['memberDistributes'], { cause: 'node vault' }),
  silent('member-distributes', 'no LACP', { none: ['memberDistributes'] }),

  met('members-same-partner', 'one partner'),
  broken(
    'members-same-partner',
    'two partners',
    { memberPartnersEqual: false },
    {
      cause: link,
      what: 'the members of vault-up lead to different systems',
    },
  ),
  unknown('members-same-partner', ['memberPartnersEqual'], { cause: 'node vault' }),
  silent('members-same-partner', 'no LACP', { none: ['memberPartnersEqual'] }),

  met('members-same-aggregator', 'one aggregator'),
  broken(
    'members-same-aggregator',
    'two aggregators',
    { memberAggregatorsEqual: false },
    {
      cause: link,
      what: 'the members of vault-up are not in one aggregate: only the ports of one carry traffic',
    },
  ),
  unknown('members-same-aggregator', ['memberAggregatorsEqual'], { cause: 'node vault' }),
  silent('members-same-aggregator', 'no LACP', { none: ['memberAggregatorsEqual'] }),

  met('members-present', 'all members'),
  broken(
    'members-present',
    'a member that is not in it',
    { aggregateMembersMissing: ['vault:eth5'] },
    {
      cause: link,
      what: 'declared as members of vault-up and not in it: vault:eth5',
    },
  ),
  unknown('members-present', ['aggregateMembersMissing'], { cause: 'node vault' }),
  silent('members-present', 'no aggregate', { none: ['aggregateMembersMissing'] }),

  met('members-same-speed', 'one speed'),
  broken(
    'members-same-speed',
    'two speeds',
    { memberSpeedsEqual: false, memberSpeedsMbps: [10_000, 1000] },
    {
      cause: link,
      what: 'the members of vault-up run at different speeds: 10 Gb/s, 1 Gb/s; LACP leaves the odd ones out',
    },
  ),
  unknown('members-same-speed', ['memberSpeedsEqual'], { cause: 'node vault' }),
  silent('members-same-speed', 'no aggregate', { none: ['memberSpeedsEqual'] }),
];

function judgeCase({ rule: name, facts, unread = [], none = [] }: Case) {
  const rule = rules.find((each) => each.rule === name);
  if (rule === undefined) throw new Error(`no shipped rule ${name}`);
  const all = { ...bases[rule.judges], ...facts };
  const kept = Object.entries(all).filter(([fact]) => ![...unread, ...none].includes(fact));
  const gaps: Gaps = Object.fromEntries(unread.map((fact) => [fact, gap]));
  const policy: Policy = { policy: rule.policy, about: '', file: '', rules: [rule] };
  const subject = subjectOf(rule.judges, Object.fromEntries(kept), gaps);
  return judge([subject], [policy], { waivers: [], now: '2027-01-15' });
}

describe('shipped rules', () => {
  it.each(cases.map((each) => [`${each.rule}: ${each.outcome}: ${each.name}`, each] as const))(
    '%s',
    (_name, each) => {
      const { tally, findings, faults } = judgeCase(each);
      expect(faults).toEqual([]);
      expect(tally).toEqual({
        met: 0,
        broken: 0,
        undetermined: 0,
        waived: 0,
        notApplicable: 0,
        excused: 0,
        [each.outcome]: 1,
      });
      const [finding] = findings;
      if (each.cause !== undefined) expect(finding?.cause).toBe(each.cause);
      if (each.what !== undefined) expect(finding?.what).toBe(each.what);
      if (each.advice !== undefined) expect(finding?.advice?.startsWith(each.advice)).toBe(true);
      // A text with a hole in it is no explanation.
      if (each.outcome === 'broken')
        expect(`${finding?.what} ${finding?.advice ?? ''} ${finding?.cause}`).not.toContain(
          '(unknown)',
        );
      if (finding !== undefined) expect(finding.evidence).not.toEqual([]);
    },
  );

  it('each have a case for every verdict that they can give', () => {
    const missing = rules.flatMap(({ rule, when }) => {
      const outcomes: Outcome[] = [
        'met',
        'broken',
        'undetermined',
        ...(when ? (['notApplicable'] as const) : []),
      ];
      return outcomes
        .filter((o) => !cases.some((c) => c.rule === rule && c.outcome === o))
        .map((o) => `${rule}: ${o}`);
    });
    expect(missing).toEqual([]);
    expect(rules).toHaveLength(70);
  });

  it('are all met by a site as declared', () => {
    const subjects = Object.entries(bases).map(([kind, facts]) =>
      subjectOf(kind as Rule['judges'], facts),
    );
    const { findings, tally } = judge(subjects, policies, { waivers: [], now: '2027-01-15' });
    expect(findings).toEqual([]);
    // The port is not on a switch, the run carries what it is seen to run at, and nothing flaps.
    expect(tally.met).toBe(rules.length - 3);
  });

  it('name a standard or common practice, and advise where they can', () => {
    for (const rule of rules) expect(rule.source).toMatch(/RFC \d+|IEEE 802|common practice/);
    expect(rules.filter(({ advice }) => advice === undefined)).toEqual([]);
  });
});
