import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { audit, brokenIn } from './harness/audit.ts';
import { ipByHand } from './harness/by-hand.ts';
import { until } from './harness/command.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Lab, settle, startLab, stopLab, untilAgentTells } from './harness/lab.ts';
import { ipBatch, mustInNs } from './harness/namespaces.ts';
import { planFor } from './harness/plan.ts';
import {
  confirmIn,
  type RehearsalRun,
  type Rehearsed,
  type RehearsedAdvice,
  type RehearsedPath,
  type RehearsedStep,
  rehearseIn,
} from './harness/rehearsal.ts';
import { dfPing, setMtu } from './harness/topology.ts';

// plot - quay - loft - vault, whose address is on a bridge, and a gateway with attic behind it.
// The kernel of the lab has no bond, no VLAN interface and no Wi-Fi: what a change does to those is
// in test/change/ alone. Every setting here is set by the hand of the test; hopgauge sets nothing.

let lab: Lab;
beforeAll(async () => {
  lab = await startLab(planFor({ router: true, hostBridgeOn: ['vault'] }));
});
afterAll(() => stopLab(lab));

type Pair = readonly [from: string, to: string];

/** The pairs of ends of the declared paths, as an audit names them. */
const pairs: ReadonlyMap<string, Pair> = new Map([
  ['plotting', ['plot', 'vault']],
  ['archive (plot to attic)', ['plot', 'attic']],
  ['archive (vault to attic)', ['vault', 'attic']],
]);
const hosts = ['plot', 'vault', 'gate', 'attic'];
const hostPorts = ['plot:eth0', 'vault:eth0', 'gate:eth0', 'gate:eth1', 'attic:eth0'];
const switchPorts = ['quay:xg1', 'quay:xg8', 'loft:xg8', 'loft:xg1', 'loft:xg5'];

/**
 * The same MTU is declared of both segments. Agents that say 1500 on all ports are doubted unless
 * the owner believes them, and then nothing would be foretold of the paths over them.
 */
function declaring(mtu: number) {
  return (draft: IntentDraft) => {
    for (const name of ['quay', 'loft'])
      draft.nodes[name] = { ...draft.nodes[name], believe: ['mtu'] };
    for (const segment of Object.values(draft.segments)) segment['mtu'] = mtu;
    draft.paths['archive'] = {
      from: ['plot', 'vault'],
      to: ['attic'],
      over: ['storage', 'upstairs'],
    };
  };
}

function changeText(mtu: number, ports: readonly string[] = []): string {
  return stringify({
    change: 1,
    about: `both segments to ${mtu}`,
    segments: { storage: { mtu }, upstairs: { mtu } },
    ...(ports.length > 0 && { ports: Object.fromEntries(ports.map((port) => [port, { mtu }])) }),
  });
}

/** Every port of the paths at `mtu`, and a bridge on vault that nobody has set by hand. */
async function allAt(mtu: number): Promise<void> {
  await settle(lab, async () => {
    for (const port of [...hostPorts, ...switchPorts]) {
      const [node = '', name = ''] = port.split(':');
      await setMtu(lab, [node, name], mtu);
    }
    await renewBridge();
  });
  await forgetSizes();
}

/** A bridge follows its members only until its own MTU is set, as the lab does between cases. */
async function renewBridge(): Promise<void> {
  await ipBatch(lab.machine('vault'), [
    'link del br0',
    'link add br0 type bridge stp_state 0 forward_delay 0',
    'link set eth0 master br0',
    'addr add 198.18.20.12/24 dev br0',
    'link set br0 up',
    'route add default via 198.18.20.21',
  ]);
}

/** Takes one step: by its own command where the node has one, else as a switch's console would. */
async function take(step: RehearsedStep, { temporary }: RehearsedAdvice): Promise<void> {
  const { node, portName, to } = step;
  if (lab.node(node).kind === 'switch') {
    expect(temporary, step.id).toEqual([]);
    await setMtu(lab, [node, portName], to);
    return;
  }
  expect(temporary.length, step.id).toBe(1);
  for (const command of temporary) await mustInNs(lab.machine(node), ['sh', '-ec', command]);
}

/** What a router said of an earlier packet is remembered for ten minutes, and would speak for it. */
async function forgetSizes(): Promise<void> {
  for (const host of hosts) await ipBatch(lab.machine(host), ['route flush cache']);
}

/** Pings in both directions with `bytes`; `vanishes` where nothing and nobody says why. */
async function sent([from, to]: Pair, bytes: number): Promise<readonly string[]> {
  const ways = [
    [from, to],
    [to, from],
  ] as const;
  return Promise.all(
    ways.map(async (way) => {
      const { passes, words } = await dfPing(lab, way, bytes);
      const told = /too long|frag needed/i.test(words) ? 'is refused' : 'vanishes';
      return `${way.join(' to ')} ${bytes} ${passes ? 'passes' : told}`;
    }),
  );
}

async function mtuOf(node: string): Promise<number> {
  const [port = ''] = Object.keys(lab.node(node).data);
  const [row] = await ipByHand(lab.machine(node), ['link', 'show', 'dev', port]);
  return Number(row?.['mtu']);
}

/** Real packets against what is foretold of one state. */
async function expectForetold(
  when: string,
  paths: ReadonlyMap<string, RehearsedPath>,
  pathsCut: number,
): Promise<void> {
  await forgetSizes();
  expect([...paths.keys()].sort(), when).toEqual([...pairs.keys()].sort());
  const rows = [...paths.values()].map(async ({ id, joined, atLeastBytes, atMostBytes }) => {
    const pair = pairs.get(id);
    if (pair === undefined || atLeastBytes === undefined || atMostBytes === undefined)
      throw new Error(`${when}: ${id} has no size foretold`);
    expect(joined).toBe(true);
    const agreed = Math.min(await mtuOf(pair[0]), await mtuOf(pair[1]));
    const [least, most, over, agreedOn] = await Promise.all([
      sent(pair, atLeastBytes),
      sent(pair, atMostBytes),
      // A cable between namespaces takes four bytes more than its MTU.
      sent(pair, atMostBytes + 5),
      sent(pair, agreed),
    ]);
    return { when, id, least, most, over, cut: agreedOn.some(isLost) };
  });
  const seen = await Promise.all(rows);
  expect(seen).toEqual(
    seen.map((row) => {
      const [from, to] = pairs.get(row.id) ?? ['', ''];
      const { atLeastBytes, atMostBytes = 0 } = paths.get(row.id) ?? {};
      const passing = (bytes: number | undefined) => [
        `${from} to ${to} ${bytes} passes`,
        `${to} to ${from} ${bytes} passes`,
      ];
      return {
        ...row,
        least: passing(atLeastBytes),
        most: passing(atMostBytes),
        over: [expect.not.stringContaining('passes'), expect.not.stringContaining('passes')],
      };
    }),
  );
  // Packets that both ends would agree on, as TCP does, are lost only where a cut is foretold.
  if (pathsCut === 0) expect(seen.filter(({ cut }) => cut)).toEqual([]);
}

function isLost(answer: string): boolean {
  return answer.endsWith(' vanishes');
}

interface Beside {
  /** Confirmed after every step, else after the last one. */
  readonly each?: boolean;
  /** Done right after the hand has taken a step, before anything is looked at. */
  readonly taken?: (step: RehearsedStep) => Promise<void>;
  /** Looked at once the foretold sizes were found. */
  readonly found?: (step: RehearsedStep) => Promise<void>;
}

/**
 * Carries a change out step by step in the order that was worked out, and holds every state to real
 * packets.
 */
async function carryOut(
  ran: RehearsalRun,
  { taken, found, each = false }: Beside = {},
): Promise<void> {
  const { order, paths, advice, start } = ran.rehearsal;
  const known = new Map(paths.start.map((path) => [path.id, path]));
  await expectForetold('before the first step', known, start.pathsCut);
  for (const [at, step] of order.steps.entries()) {
    await take(step, adviceAt(advice, at));
    await taken?.(step);
    for (const path of paths.after[at] ?? []) known.set(path.id, path);
    await expectForetold(`after ${step.id}`, known, order.costs[at]?.pathsCut ?? Number.NaN);
    if (each || at + 1 === order.steps.length) await expectConfirmed(ran, at + 1);
    await found?.(step);
  }
}

/** As far as the steps taken all is as foretold, and the whole only once the last one is. */
async function expectConfirmed(ran: RehearsalRun, step: number): Promise<void> {
  await forgetSizes();
  for (const name of ['quay', 'loft']) await untilAgentTells(lab, lab.node(name));
  const { length } = ran.rehearsal.order.steps;
  const soFar = await confirmIn(lab, ran, step);
  expect(soFar, `up to step ${step}`).toMatchObject({
    status: 0,
    steps: ran.rehearsal.order.steps.map((_, at) => ({
      number: at + 1,
      verdict: at < step ? 'done' : 'not-done',
    })),
    paths: [...pairs.keys()].sort().map((id) => ({ id, verdict: 'as-foretold' })),
    ...{ ways: [], followers: [], errors: [], findings: { notMended: [], broken: [] } },
  });
  if (step === length) return;
  const whole = await confirmIn(lab, ran);
  expect(whole.status, `the whole after step ${step}`).toBe(1);
  expect(whole.steps.filter(({ verdict }) => verdict === 'not-done')).toHaveLength(length - step);
}

function adviceAt(advice: readonly RehearsedAdvice[], at: number): RehearsedAdvice {
  const own = advice[at];
  if (own === undefined) throw new Error(`step ${at + 1} has no advice`);
  return own;
}

/** The procedure has every step in the order of the rehearsal, with its command where it has one. */
function expectProcedure({ procedure, rehearsal: { order, advice } }: RehearsalRun): void {
  const sections = procedure.split(/^### (?=Step )/m).slice(1);
  expect(sections.map((text) => text.split('\n')[0])).toEqual(
    order.steps.map(({ node, portName }, at) => `Step ${at + 1}: mtu of ${node}:${portName}`),
  );
  for (const [at, text] of sections.entries()) {
    const commands = advice[at]?.temporary.map((line) => `Type:\n\n\`\`\`\n${line}\n\`\`\``);
    for (const command of commands ?? []) expect(text).toContain(command);
  }
}

async function expectNoneBroken(mtu: number, { broken, standing }: Rehearsed): Promise<void> {
  for (const name of ['quay', 'loft']) await untilAgentTells(lab, lab.node(name));
  const { report } = await audit(lab, intentFor(lab, declaring(mtu)));
  const foretold = [...broken, ...standing].map(({ rule, subject }) => `${rule} ${subject.id}`);
  expect(brokenIn(report, 'notice')).toEqual(foretold.sort());
}

describe('a change of an MTU over two switches, rehearsed and then carried out by hand', () => {
  it('raises to 9000', { timeout: 600_000 }, async () => {
    await allAt(1500);
    const ran = await rehearseIn(lab, intentFor(lab, declaring(1500)), changeText(9000));
    expect(ran.rehearsal.remarks.map(({ kind, on }) => `${kind} ${on}`)).toEqual([
      'caution vault:br0',
      'caution loft, quay',
    ]);
    expect(ran.status).toBe(0);
    expectProcedure(ran);
    await carryOut(ran, { each: true });
    await expectNoneBroken(9000, ran.rehearsal);
  });

  it('lowers to 1500', { timeout: 600_000 }, async () => {
    await allAt(9000);
    const text = changeText(1500, [...hostPorts, ...switchPorts]);
    const ran = await rehearseIn(lab, intentFor(lab, declaring(9000)), text);
    expectProcedure(ran);
    await carryOut(ran, { each: true });
    await expectNoneBroken(1500, ran.rehearsal);
  });
});

describe('a change that forgets something', () => {
  const forgotten = ({ rehearsal: { remarks } }: RehearsalRun) =>
    remarks.flatMap(({ kind, on }) => (kind === 'forgotten' ? [on] : []));
  const cuts = ({ rehearsal: { order } }: RehearsalRun) =>
    order.costs.map(({ pathsCut }) => pathsCut);

  it('loses large packets without a word where the switches between are forgotten', async () => {
    await allAt(1500);
    const ends = changeText(9000, ['plot:eth0', 'vault:eth0']);
    const ran = await rehearseIn(lab, intentFor(lab, declaring(1500)), ends);
    expect(forgotten(ran)).toEqual(['attic:eth0', 'gate:eth0', 'gate:eth1', ...switchPorts].sort());
    expect(ran.status).toBe(1);
    expect(ran.rehearsal.start.pathsCut).toBe(0);
    expect(Math.min(...cuts(ran))).toBeGreaterThan(0);
    expect(ran.rehearsal.order.steps.map(({ node }) => node).sort()).toEqual(['plot', 'vault']);
    await carryOut(ran, {
      // From the first end that is raised, although the other is still small.
      found: async ({ node }) => {
        const far = node === 'plot' ? 'vault' : 'plot';
        expect((await sent([node, far], 9000))[0]).toBe(`${node} to ${far} 9000 vanishes`);
      },
    });
    expect(await sent(['plot', 'vault'], 9000)).toEqual([
      'plot to vault 9000 vanishes',
      'vault to plot 9000 vanishes',
    ]);
  });

  it('loses what is sent into a forgotten gateway, which answers only the other way', async () => {
    await allAt(1500);
    const listed = [...hostPorts, ...switchPorts].filter((port) => port !== 'gate:eth0');
    const ran = await rehearseIn(lab, intentFor(lab, declaring(1500)), changeText(9000, listed));
    expect(forgotten(ran)).toEqual(['gate:eth0']);
    expect(ran.status).toBe(1);
    // attic and one of the hosts on the other side are large then: the last steps of any good order.
    expect(cuts(ran).slice(-2)).toEqual([0, 2]);
    await carryOut(ran);
    for (const host of ['plot', 'vault']) {
      expect(await sent([host, 'attic'], 9000)).toEqual([
        `${host} to attic 9000 vanishes`,
        `attic to ${host} 9000 is refused`,
      ]);
    }
  });
});

describe('what a rehearsal cannot know, and says', () => {
  it('a bridge that was set by hand does not follow, and is set as the caution tells', async () => {
    await allAt(1500);
    // The kernel takes no notice of a value that it has already.
    for (const mtu of [1400, 1500]) await setMtu(lab, ['vault', 'br0'], mtu);
    const ran = await rehearseIn(lab, intentFor(lab, declaring(1500)), changeText(9000));
    const told = ran.rehearsal.remarks.filter(({ on }) => on === 'vault:br0');
    expect(told.map(({ kind }) => kind)).toEqual(['caution']);
    let seen = 0;
    await carryOut(ran, {
      taken: async ({ node }) => {
        if (node !== 'vault') return;
        seen = await mtuOf('vault');
        await setMtu(lab, ['vault', 'br0'], 9000);
      },
    });
    expect(seen).toBe(1500);
    await expectNoneBroken(9000, ran.rehearsal);
  });
});

/**
 * In the place of programs that a namespace has no service manager for: they take the words of the
 * real ones, and wait a second instead of ten minutes (systemd-run(1), at(1)). So what is shown is
 * that the lines can be typed as they are and do put the value back, not that those programs wait.
 */
const standIns = `
mkdir -p /run/stand-in
cat >/run/stand-in/systemd-run <<'END'
#!/bin/sh
case "$1 $2" in '--on-active=10m --unit=put-back-'*) shift 2 ;; *) exit 1 ;; esac
{ sleep 1; exec "$@"; } >/dev/null 2>&1 </dev/null &
END
cat >/run/stand-in/at <<'END'
#!/bin/sh
[ "$*" = 'now + 10 minutes' ] || exit 1
job=$(cat)
{ sleep 1; exec sh -c "$job"; } >/dev/null 2>&1 </dev/null &
END
chmod 755 /run/stand-in/systemd-run /run/stand-in/at
`;

describe('the job that goes back by itself', () => {
  it.each([
    ['systemd-run', (arm: readonly string[]) => arm[0]],
    ['at', (arm: readonly string[]) => /^# without systemd: (.*); cancel/.exec(arm[1] ?? '')?.[1]],
  ])('puts back what a step set, by the line for %s', async (_program, lineOf) => {
    await allAt(1500);
    const ran = await rehearseIn(lab, intentFor(lab, declaring(1500)), changeText(9000));
    const { order, advice, paths } = ran.rehearsal;
    const at = order.steps.findIndex(({ node }) => node === 'vault');
    const step = order.steps[at];
    const own = adviceAt(advice, at);
    const line = lineOf(own.timedReturn?.arm ?? []);
    if (step === undefined || line === undefined) throw new Error('vault has no timed return');
    const vault = lab.machine('vault');
    await mustInNs(vault, ['sh', '-ec', standIns]);
    await mustInNs(vault, ['sh', '-ec', `PATH=/run/stand-in:$PATH; ${line}`]);
    await take(step, own);
    expect(await mtuOf('vault')).toBe(9000);
    await until('the old MTU of vault', async () => (await mtuOf('vault')) === 1500);
    await expectForetold('gone back', new Map(paths.start.map((path) => [path.id, path])), 0);
  });
});
