import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, brokenIn, causesIn } from './harness/audit.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, settle, startLab, stopLab } from './harness/lab.ts';
import { managementAddress, managementAddress6, planFor } from './harness/plan.ts';
import { dfPing, setMtu } from './harness/topology.ts';

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
  const stalls =
    /^transfers over TCP .*stall.* 1500 bytes.*; UDP and ICMP packets above 1500 bytes/;
  const agrees = 'TCP agrees on packets of 1500 bytes, so only the gain of larger ones is lost';
  const sends = (node: string) =>
    new RegExp(`^${agrees}; ${node} itself sends no packet above 1500`);
  const loses = (node: string) =>
    new RegExp(`^${agrees}; UDP and ICMP packets above 1500 bytes from ${node} are lost`);
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
        there: stalls,
        back: stalls,
      }),
    ),
    {
      port: ['plot', 'eth0'],
      findings: smallHost('plot:eth0'),
      there: sends('plot'),
      back: loses('vault'),
    },
    {
      port: ['vault', 'eth0'],
      findings: smallHost('vault:eth0'),
      there: loses('plot'),
      back: sends('vault'),
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
