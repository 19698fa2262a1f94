import { describe, expect, it } from 'vitest';
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
}

const policies = await loadShipped('essential', 'jumbo');
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
    smallestLayer: 'vault:eth4',
    smallestLayerMtuBytes: 9000,
    membersDownPorts: [],
  },
  link: {
    id: 'vault:eth4 - quay-sw:xg3',
    ends: ['vault:eth4', 'quay-sw:xg3'],
    judged: true,
    speedsMbps: [10_000, 10_000],
    speedsEqual: true,
    duplexes: ['full', 'full'],
    duplexesEqual: true,
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

const cases: readonly Case[] = [
  met('node-read', 'a node that answered'),
  broken(
    'node-read',
    'a node without an answer',
    { read: false, trouble: 'no answer in 10 s', remedy: 'see that it is on' },
    { cause: 'node vault', what: 'could not be read: no answer in 10 s' },
  ),
  unknown('node-read', ['read'], {
    cause: 'node vault',
    what: 'cannot be judged: read is not known (unreachable: no answer)',
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
    { cause: link, what: 'runs at 1000 Mb/s, declared 10000 Mb/s' },
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
      what: 'runs at different speeds at its ends: 10000, 1000 Mb/s at vault:eth4, quay-sw:xg3',
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

  met('leaves-as-declared', 'traffic by the declared port'),
  broken(
    'leaves-as-declared',
    'traffic by another port',
    { leavesByDeclaredPort: false, leavesBy: 'plot-1:en0' },
    { what: 'traffic for vault (198.18.20.9) leaves by plot-1:en0; declared: plot-1:desk' },
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
    { smallestLayer: 'vault:eth5', smallestLayerMtuBytes: 1500 },
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
    { farEndSmall: true, sessionBytes: 1500 },
    { cause: 'mtu vault:eth4' },
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
    expect(rules).toHaveLength(21);
  });

  it('are all met by a site as declared', () => {
    const subjects = Object.entries(bases).map(([kind, facts]) =>
      subjectOf(kind as Rule['judges'], facts),
    );
    const { findings, tally } = judge(subjects, policies, { waivers: [], now: '2027-01-15' });
    expect(findings).toEqual([]);
    expect(tally.met).toBe(rules.length - 1); // the port is not on a switch
  });

  it('name a standard or common practice, and advise where they can', () => {
    for (const rule of rules) expect(rule.source).toMatch(/RFC \d+|IEEE 802|common practice/);
    expect(rules.filter(({ advice }) => advice === undefined)).toEqual([]);
  });
});
