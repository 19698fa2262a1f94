import { afterAll, beforeAll, expect, it } from 'vitest';
import { expectGolden } from '../report/golden.ts';
import { hopgauge, writeRunFile } from './harness/cli.ts';
import { serveForwardingTable } from './harness/forwarding-table.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, startLab, stopLab, stopSnmpd, untilAgentTells } from './harness/lab.ts';
import { ipBatch, mustInNs } from './harness/namespaces.ts';
import { talk, untilLldpTells } from './harness/neighbourhood.ts';
import { macOf, planFor } from './harness/plan.ts';
import { linkDown, setMtu } from './harness/topology.ts';

const hosts = ['plot', 'vault', 'gate', 'attic'];
const switches = ['quay', 'loft'];
/** Longer than all nights of this file. */
const uptimeSeconds = 40 * 86_400;

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ router: true }));
  for (const name of hosts) await sayUptime(name, uptimeSeconds);
  for (const name of switches) await serveAgent(name);
  await untilSettled();
});
afterAll(() => stopLab(lab));

/** A namespace has the uptime of the machine around it: a file is laid over what says it. */
async function sayUptime(name: string, seconds: number): Promise<void> {
  const lay = 'echo "$1.00 1.00" >/run/uptime && mount --bind /run/uptime /proc/uptime';
  await mustInNs(lab.machine(name), ['sh', '-ec', lay, 'sh', String(seconds)]);
}

/** An agent counts its uptime since it started, some seconds ago: it is made to say more. */
async function serveAgent(name: string): Promise<void> {
  await serveForwardingTable(lab, name, [
    `override .1.3.6.1.2.1.1.3.0 timeticks ${uptimeSeconds * 100}`,
  ]);
}

async function untilSettled(): Promise<void> {
  await untilLldpTells(lab, 1);
  await talk(lab);
}

/** Agents answer from tables that they read anew every few seconds. */
async function untilAgentsTell(): Promise<void> {
  for (const name of switches) {
    if (lab.daemons.has(`snmpd ${name}`)) await untilAgentTells(lab, lab.node(name));
  }
}

/** Neighbours are judged, too. */
function withCabling(draft: IntentDraft): void {
  draft.policies = ['essential', 'jumbo', 'cabling'];
}

/** The clock of the auditor at 02:00 of a night; what it reads stays as it is now. */
function clockAt(night: number): Readonly<Record<string, string>> {
  const aheadMs = Date.UTC(2026, 10, 20 + night, 2) - Date.now();
  const shift = `const Own = Date; globalThis.Date = class extends Own {
    constructor(...given) { given.length === 0 ? super(Own.now() + ${aheadMs}) : super(...given); }
    static now() { return Own.now() + ${aheadMs}; }
  };`;
  const url = `data:text/javascript,${encodeURIComponent(shift)}`;
  return { NODE_OPTIONS: `--import=${url}` };
}

/** Two cords of the loft change places: names of ports do, with their addresses. */
async function swapCords(): Promise<void> {
  const loft = lab.machine('loft');
  await linkDown(lab, ['loft', 'xg1']);
  await linkDown(lab, ['loft', 'xg5']);
  await ipBatch(loft, [
    'link set xg1 name spare',
    'link set xg5 name xg1',
    'link set spare name xg5',
    ...['xg1', 'xg5'].map((port) => `link set ${port} address ${macOf(lab.plan, ['loft', port])}`),
    'link set xg1 up',
    'link set xg5 up',
  ]);
  // An agent keeps the names that it knew when it began.
  await serveAgent('loft');
  await untilSettled();
}

const loftPorts = ['xg1', 'xg5', 'xg8'];

/** What happens before each night. */
const nights: readonly (readonly [words: string, happens?: () => Promise<void>])[] = [
  ['the first'],
  ['nothing happens'],
  ['quay:xg8 is lowered to 1500', () => setMtu(lab, ['quay', 'xg8'], 1500)],
  ['quay:xg8 is raised again', () => setMtu(lab, ['quay', 'xg8'], 9216)],
  [
    'vault restarts, and its MTU was not persistent',
    async () => {
      await setMtu(lab, ['vault', 'eth0'], 1500);
      await sayUptime('vault', 3600);
    },
  ],
  [
    'vault is raised again',
    async () => {
      await setMtu(lab, ['vault', 'eth0'], 9000);
      await sayUptime('vault', 3600 + 86_400);
    },
  ],
  ['the cords of vault and gate at the loft switch are swapped', swapCords],
  ['they are swapped back', swapCords],
  [
    'the loft switch is off',
    async () => {
      await stopSnmpd(lab, 'loft');
      for (const port of loftPorts) await linkDown(lab, ['loft', port]);
      await ipBatch(lab.machine('loft'), ['link set mgmt0 down']);
    },
  ],
  [
    'the loft switch is on again',
    async () => {
      const up = ['mgmt0', ...loftPorts].map((port) => `link set ${port} up`);
      await ipBatch(lab.machine('loft'), up);
      await serveAgent('loft');
      await untilSettled();
    },
  ],
  ['nothing happens'],
];

it('each night tells what moved, and nothing else', { timeout: 600_000 }, async () => {
  writeRunFile(lab, 'nights.yaml', intentFor(lab, withCabling));
  const told: string[] = [];
  for (const [night, [words, happens]] of nights.entries()) {
    await happens?.();
    await untilAgentsTell();
    const argv = ['audit', 'nights.yaml', '--changes', '--store', 'nights.sqlite', '--quiet'];
    const { code, stdout, stderr } = await hopgauge(lab, argv, { env: clockAt(night) });
    expect(stderr, words).toBe('');
    told.push(`## ${words}: ends with ${code}\n\n${stdout === '' ? '(nothing)\n' : stdout}`);
  }
  const history = ['history', '--intent', 'nights.yaml', '--store', 'nights.sqlite'];
  for (const target of [[], ['quay:xg8'], ['plotting']]) {
    const { code, stdout } = await hopgauge(lab, [...history, ...target]);
    told.push(`## history ${target.join('')}: ends with ${code}\n\n${stdout}`);
  }
  expectGolden('../../lab/golden/nights.txt', told.join('\n'));
});
