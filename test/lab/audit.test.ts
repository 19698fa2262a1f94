import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn, undeterminedIn } from './harness/audit.ts';
import { allowEthtool, disguise, setLine, undisguise } from './harness/disguise.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import {
  type Lab,
  restartSnmpd,
  restartSshd,
  settle,
  startLab,
  stopLab,
  stopSnmpd,
  stopSshd,
} from './harness/lab.ts';
import { ipBatch, mustInNs } from './harness/namespaces.ts';
import { macOf, managementAddress, managementAddress6, planFor } from './harness/plan.ts';
import { openSession } from './harness/session.ts';
import { dfPing, linkDown, setMtu } from './harness/topology.ts';
import { setHomeFile, setShell } from './harness/users.ts';

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor());
});
afterAll(() => stopLab(lab));

/** Ports of management, which no link declares: one notice on each switch, and nothing more. */
const quiet = ['live-ports-declared loft', 'live-ports-declared quay'];

/** Broken by one switch port that passes less than is declared. */
const smallSwitchPort = (port: string) => [
  'path-clearance plotting',
  `port-clearance ${port}`,
  `switch-carries-segment ${port}`,
];

/** Broken by one host whose interface is smaller than is declared. */
const smallHost = (port: string) => [
  'path-clearance plotting',
  `port-clearance ${port}`,
  'segment-agrees storage',
];

/** Names every node by an address that is not on the path. */
function byManagement(version: '' | 'v6'): (draft: IntentDraft) => void {
  const addressOf = version === 'v6' ? managementAddress6 : managementAddress;
  return (draft) => {
    for (const node of lab.plan.nodes) {
      draft.nodes[node.name] = { ...draft.nodes[node.name], at: addressOf(node) };
    }
  };
}

async function setAll(mtuBytes: number): Promise<void> {
  for (const [node, port] of lab.plan.links.flat()) await setMtu(lab, [node, port], mtuBytes);
}

describe('a healthy site', () => {
  afterAll(() => settle(lab));

  const rows: readonly (readonly [string, () => Promise<void>, (draft: IntentDraft) => void])[] = [
    ['hosts at 9000, switches at 9216', async () => undefined, () => undefined],
    ['all at 9000', () => setAll(9000), () => undefined],
    ['hosts named by their addresses of management', async () => undefined, byManagement('')],
    ['all named by IPv6 addresses of management', async () => undefined, byManagement('v6')],
    [
      'all at 1500, no MTU declared',
      () => setAll(1500),
      (draft) => {
        draft.segments['storage'] = {};
      },
    ],
    [
      'all at 1500, 1500 declared',
      () => setAll(1500),
      (draft) => {
        draft.segments['storage'] = { mtu: 1500 };
      },
    ],
  ];
  it.each(rows)('%s: status 0 and no word of fault', async (_name, given, change) => {
    await settle(lab, given);
    const { status, report, stderr } = await audit(lab, intentFor(lab, change));
    expect(brokenIn(report, 'notice')).toEqual(quiet);
    expect(causesIn(report)).toEqual([]);
    expect({ status, faults: report.faults, stderr }).toEqual({
      status: 0,
      faults: [],
      stderr: '',
    });
    expect(report.tally.broken).toBe(2);
    expect(report.tally.met).toBeGreaterThan(20);
    expect(report.nodes.map(({ name, read }) => [name, read])).toEqual(
      ['loft', 'plot', 'quay', 'vault'].map((name) => [name, true]),
    );
  });
});

describe('one hop is too small', () => {
  afterAll(() => settle(lab));

  interface SmallHop {
    readonly port: readonly [string, string];
    readonly findings: readonly string[];
    /** What breaks from plot to vault, and back. */
    readonly there: RegExp;
    readonly back: RegExp;
  }
  const middle = /stall|hang|vanish|dropped|lost/i;
  const rows: readonly SmallHop[] = [
    ...[
      ['quay', 'xg1'],
      ['quay', 'xg8'],
      ['loft', 'xg8'],
      ['loft', 'xg1'],
    ].map(
      ([node = '', port = '']): SmallHop => ({
        port: [node, port],
        findings: smallSwitchPort(`${node}:${port}`),
        there: middle,
        back: middle,
      }),
    ),
    {
      port: ['plot', 'eth0'],
      findings: smallHost('plot:eth0'),
      there: /.../,
      back: /.../,
    },
    {
      port: ['vault', 'eth0'],
      findings: smallHost('vault:eth0'),
      there: /.../,
      back: /.../,
    },
  ];
  it.each(rows)('$port', async ({ port, findings, there, back }) => {
    await settle(lab, () => setMtu(lab, port, 1500));
    const { status, report } = await audit(lab, intentFor(lab));
    expect(brokenIn(report)).toEqual([...findings].sort());
    expect(causesIn(report)).toEqual([`mtu ${port.join(':')}: broken`]);
    expect(status).toBe(1);
    const facts = report.paths[0]?.facts ?? {};
    expect(facts['narrowestPort']).toBe(port.join(':'));
    expect([facts['mtuAtLeastBytes'], facts['mtuAtMostBytes']]).toEqual([1500, 1500]);
    expect(facts['effectThere']).toMatch(there);
    expect(facts['effectBack']).toMatch(back);
    expect(report.findings[0]?.evidence.length).toBeGreaterThan(0);
    await clearanceIs(1500);
  });

  it('words an end differently from the middle, and each direction on its own', async () => {
    const effects = new Map<string, string>();
    for (const port of [
      ['quay', 'xg8'],
      ['plot', 'eth0'],
      ['vault', 'eth0'],
    ] as const) {
      await settle(lab, () => setMtu(lab, port, 1500));
      const { report } = await audit(lab, intentFor(lab));
      const facts = report.paths[0]?.facts ?? {};
      effects.set(`${port[0]} there`, String(facts['effectThere']));
      effects.set(`${port[0]} back`, String(facts['effectBack']));
    }
    const effect = (key: string) => effects.get(key) ?? '';
    // Without the names of who sends and who receives, what is left is what breaks.
    const breaks = (key: string) => effect(key).replace(/plot(:eth0)?|vault(:eth0)?/g, '-');
    expect(breaks('quay there')).toBe(breaks('quay back'));
    expect(breaks('plot there')).toBe(breaks('vault back'));
    expect(breaks('plot back')).toBe(breaks('vault there'));
    expect(new Set([...effects.keys()].map(breaks)).size).toBe(3);
  });

  it('agrees with pings on the clearance of a healthy path', async () => {
    await settle(lab);
    const { report } = await audit(lab, intentFor(lab));
    const facts = report.paths[0]?.facts ?? {};
    expect([facts['mtuAtLeastBytes'], facts['mtuAtMostBytes']]).toEqual([9000, 9000]);
    await clearanceIs(9000);
  });
});

/** A packet of `bytes` passes both ways; one of five more does not (the lab's cables pass four). */
async function clearanceIs(bytes: number): Promise<void> {
  for (const pair of [
    ['plot', 'vault'],
    ['vault', 'plot'],
  ] as const) {
    const passes = async (size: number) => (await dfPing(lab, pair, size)).passes;
    expect([await passes(bytes), await passes(bytes + 5)], pair.join(' to ')).toEqual([
      true,
      false,
    ]);
  }
}

describe('what a host tells of its way to the other', () => {
  afterAll(() => settle(lab));

  const there = 'plotting: plot to vault';
  const route = (words: string) =>
    mustInNs(lab.machine('plot'), ['ip', 'route', ...words.split(' ')]);

  it('a live session tells that the far end is small, which nobody reads', async () => {
    await settle(lab, () => setMtu(lab, ['vault', 'eth0'], 1500));
    const unread = (draft: IntentDraft) => {
      draft.nodes['vault'] = { unread: 'host', at: draft.nodes['vault']?.['at'] };
    };
    const quietly = await audit(lab, intentFor(lab, unread));
    expect(brokenIn(quietly.report)).toEqual([]);
    const close = await openSession(lab, ['plot', 'vault']);
    const { status, report } = await audit(lab, intentFor(lab, unread));
    await close();
    expect(brokenIn(report)).toEqual([`sessions-full-size ${there}`]);
    expect(status).toBe(1);
    const [finding] = report.findings.filter(({ rule }) => rule === 'sessions-full-size');
    expect(finding?.what).toContain('use packets of 1500 bytes, declared 9000');
  });

  it('a session of full size says nothing', async () => {
    await settle(lab);
    const close = await openSession(lab, ['plot', 'vault']);
    const { status, report } = await audit(lab, intentFor(lab));
    await close();
    expect([status, brokenIn(report), causesIn(report)]).toEqual([0, [], []]);
  });

  it('a route carries an MTU of its own', async () => {
    await settle(lab);
    await route('add 198.18.20.12/32 dev eth0 mtu 1400');
    const { status, report } = await audit(lab, intentFor(lab));
    const large = await dfPing(lab, ['plot', 'vault'], 1401);
    await route('del 198.18.20.12/32 dev eth0');
    expect(brokenIn(report)).toEqual([`route-full-size ${there}`]);
    expect(status).toBe(1);
    expect(large.words).toMatch(/too long, mtu=1400/);
  });

  it('a route leads over the network of management', async () => {
    await settle(lab);
    await route('add 198.18.20.12/32 via 198.18.1.12 dev mgmt0');
    const { status, report } = await audit(lab, intentFor(lab));
    const large = await dfPing(lab, ['plot', 'vault'], 9000);
    await route('del 198.18.20.12/32 via 198.18.1.12 dev mgmt0');
    expect(brokenIn(report)).toContain(`leaves-as-declared ${there}`);
    expect(status).toBe(1);
    expect(large.words).toMatch(/too long, mtu=1500/);
  });
});

describe('a node that cannot be read, or says something odd', () => {
  interface Odd {
    readonly name: string;
    readonly given?: () => Promise<void>;
    readonly change?: (draft: IntentDraft) => void;
    readonly env?: Readonly<Record<string, string>>;
    /** Puts things right again. */
    readonly after?: () => Promise<void>;
    readonly status: 0 | 1 | 2;
    /** What is broken at or above a warning; absent: nothing. */
    readonly broken?: readonly string[];
    /** The causes of all that is broken or undetermined; absent: none. */
    readonly causes?: readonly string[];
    /** Some of what could not be judged. */
    readonly unknown?: readonly string[];
    /** Kind of trouble of a reading, by node. */
    readonly troubles?: Readonly<Record<string, string>>;
  }

  const unread = (node: string) => `node ${node}: undetermined`;
  // Two nodes keep it from being known, so that neither is its one cause.
  const pathUnknown = 'unknown path.carriesDeclaredMtu of plotting: undetermined';
  const ports = (mtu: number) =>
    [1, 2, 3, 4, 5].map((index) => `override 1.3.6.1.2.1.2.2.1.4.${index} integer ${mtu}`);

  const rows: readonly Odd[] = [
    {
      name: 'a host interface is down',
      given: () => settle(lab, () => linkDown(lab, ['vault', 'eth0'])),
      after: () => settle(lab),
      status: 1,
      broken: ['port-enabled vault:eth0', 'port-up loft:xg1'],
      causes: ['link vault:eth0 - loft:xg1: broken'],
    },
    {
      name: 'an agent says half duplex at 100 Mb/s',
      given: async () => {
        const index = await indexOf('quay', 'xg1');
        await restartSnmpd(lab, 'quay', {
          lines: [
            `override 1.3.6.1.2.1.10.7.2.1.19.${index} integer 2`,
            `override 1.3.6.1.2.1.31.1.1.1.15.${index} uinteger 100`,
            `override 1.3.6.1.2.1.2.2.1.5.${index} uinteger 100000000`,
          ],
        });
      },
      change: (draft) => {
        for (const link of draft.links) link['speed'] = '100M';
      },
      after: () => restartSnmpd(lab, 'quay'),
      status: 1,
      broken: ['duplex-full quay:xg1'],
      causes: ['link plot:eth0 - quay:xg1: broken'],
    },
    {
      name: 'an agent says 1500 on all ports while 9000 pass',
      given: () => restartSnmpd(lab, 'quay', { lines: ports(1500) }),
      after: () => restartSnmpd(lab, 'quay'),
      status: 2,
      causes: ['mtu of quay: undetermined'],
      unknown: ['path-clearance plotting', 'port-clearance quay:xg1', 'port-clearance quay:xg8'],
    },
    {
      name: 'the sshd of a host is stopped',
      given: () => stopSshd(lab, 'vault'),
      after: () => restartSshd(lab, 'vault'),
      status: 2,
      causes: [unread('vault')],
      unknown: ['node-read vault', 'path-clearance plotting'],
      troubles: { vault: 'refused' },
    },
    {
      name: 'the agent of a switch is stopped',
      given: () => stopSnmpd(lab, 'loft'),
      after: () => restartSnmpd(lab, 'loft'),
      status: 2,
      causes: [unread('loft')],
      unknown: ['node-read loft', 'path-clearance plotting'],
      troubles: { loft: 'silent' },
    },
    {
      name: 'the community is wrong',
      change: byCommunity,
      env: { SALTMARSH_COMMUNITY: 'another-community' },
      status: 2,
      causes: [unread('loft'), unread('quay'), pathUnknown],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'silent', quay: 'silent' },
    },
    {
      name: 'the privacy passphrase is wrong',
      env: { SALTMARSH_PRIV: 'another-privacy-passphrase' },
      status: 2,
      causes: [unread('loft'), unread('quay'), pathUnknown],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'privacy-silent', quay: 'privacy-silent' },
    },
    {
      name: 'the authentication passphrase is wrong',
      env: { SALTMARSH_AUTH: 'another-authentication-passphrase' },
      status: 2,
      causes: [unread('loft'), unread('quay'), pathUnknown],
      unknown: ['node-read loft', 'node-read quay', 'path-clearance plotting'],
      troubles: { loft: 'auth-wrong', quay: 'auth-wrong' },
    },
    {
      name: 'the host key has changed',
      given: () => restartSshd(lab, 'vault', { hostKey: 'second' }),
      after: () => restartSshd(lab, 'vault'),
      status: 1,
      broken: ['right-machine vault'],
      causes: ['node vault: broken'],
      troubles: { vault: 'host-key-changed' },
    },
    {
      name: 'another machine with the same host key is at the address',
      given: () => ipBatch(lab.machine('vault'), ['link set eth0 address 02:00:5e:00:77:77']),
      change: (draft) => {
        const mac = macOf(lab.plan, ['vault', 'eth0']);
        draft.nodes['vault'] = { ...draft.nodes['vault'], ports: { eth0: { name: 'eth0', mac } } };
      },
      after: () =>
        ipBatch(lab.machine('vault'), [
          `link set eth0 address ${macOf(lab.plan, ['vault', 'eth0'])}`,
        ]),
      status: 1,
      broken: ['right-machine vault'],
      causes: ['node vault: broken'],
    },
    {
      name: 'another switch is at the address',
      change: (draft) => {
        const engineId = `80001f8804${Buffer.from('quay').toString('hex')}`;
        draft.nodes['loft'] = { ...draft.nodes['loft'], identity: { engineId } };
      },
      status: 1,
      broken: ['right-machine loft'],
      causes: ['node loft: broken'],
    },
    ...['/usr/bin/fish', '/bin/csh', '/bin/rbash', '/bin/sh'].map(
      (shell): Odd => ({
        name: `the login shell is ${shell}`,
        given: async () => {
          for (const host of ['plot', 'vault']) setShell(lab, host, shell);
        },
        after: async () => {
          for (const host of ['plot', 'vault']) setShell(lab, host, '/bin/bash');
        },
        status: 0,
      }),
    ),
    {
      name: 'start files print before the answer',
      given: () => setHomeFile(lab, ['plot', '.bashrc'], 'echo Welcome to plot; echo "x" >&2\n'),
      after: () => setHomeFile(lab, ['plot', '.bashrc'], ''),
      status: 0,
    },
    {
      name: 'a forced command ignores what is asked',
      given: () => restartSshd(lab, 'plot', { forceCommand: 'sh -s' }),
      after: () => restartSshd(lab, 'plot'),
      status: 0,
    },
    {
      name: 'a forced command is something else',
      given: () => restartSshd(lab, 'plot', { forceCommand: 'echo closed for today' }),
      after: () => restartSshd(lab, 'plot'),
      status: 2,
      causes: [unread('plot')],
      unknown: ['node-read plot', 'path-clearance plotting'],
      troubles: { plot: 'no-marks' },
    },
    {
      name: 'the account may not run ethtool, and nothing else tells',
      given: async () => {
        await disguise(lab, ['plot', 'eth0'], { speedMbps: 10_000, duplex: 'Full' });
        await allowEthtool(lab, 'plot', false);
      },
      change: (draft) => {
        draft.access['hosts'] = { ssh: { user: 'plain', key: '~/.ssh/id_ed25519' } };
      },
      after: () => undisguise(lab, ['plot', 'eth0']),
      status: 0,
    },
    {
      name: 'a copper port negotiated 1 Gb/s of 10',
      given: async () => {
        await disguise(lab, ['plot', 'eth0'], { speedMbps: 10_000, duplex: 'Full' });
        await setLine(lab, 'plot', { speedMbps: 1000, duplex: 'Full' });
      },
      after: () => undisguise(lab, ['plot', 'eth0']),
      status: 1,
      broken: ['ends-same-speed plot:eth0 - quay:xg1', 'speed-as-declared plot:eth0'],
      causes: ['link plot:eth0 - quay:xg1: broken'],
    },
  ];

  it.each(rows)('$name', async (row) => {
    await row.given?.();
    try {
      const { status, report } = await audit(lab, intentFor(lab, row.change), {
        ...(row.env !== undefined && { env: row.env }),
      });
      expect(brokenIn(report)).toEqual(row.broken ?? []);
      expect(causesIn(report)).toEqual(row.causes ?? []);
      expect(undeterminedIn(report)).toEqual(expect.arrayContaining([...(row.unknown ?? [])]));
      expect(status).toBe(row.status);
      expect(report.faults).toEqual([]);
      const troubles = report.nodes.flatMap(({ name, readings }) =>
        readings.flatMap(({ trouble }) => (trouble ? [[name, trouble.kind]] : [])),
      );
      expect(Object.fromEntries(troubles)).toEqual(row.troubles ?? {});
    } finally {
      await row.after?.();
    }
  });

  function byCommunity(draft: IntentDraft): void {
    draft.access['switches'] = { snmp: { version: '2c', community: 'SALTMARSH_COMMUNITY' } };
  }

  async function indexOf(node: string, port: string): Promise<string> {
    const argv = ['cat', `/sys/class/net/${port}/ifindex`];
    return (await mustInNs(lab.machine(node), argv)).trim();
  }
});
