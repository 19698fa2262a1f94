import { execFile } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import pLimit from 'p-limit';
import type { DescribedSwitch } from '../../mocks/snmp-agent/described-switch.ts';
import { servedObjects } from '../../mocks/snmp-agent/served-objects.ts';
import { type RunningAgent, startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import { nodesAtOnceMax } from '../../src/collect/collect-survey.ts';
import { readSnmp } from '../../src/collect/snmp/read-snmp.ts';
import { snmpRequests } from '../../src/collect/snmp/snmp-requests.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import { everyTopic, type ReadTopic } from '../../src/facts/read-topics.ts';
import { fullSwitch, plainSwitch, secret } from '../collect/snmp/quay-switch.ts';

const portCount = 52;
const delayMs = 20;
/** Times fewer round trips than the reference tool. */
const goal = 5;
const walkTimeoutMs = 60_000;
const switchCount = 1000;
const switchPorts = 8;

/** What one run of the bench measured, or why there was none. */
export type SnmpBench =
  | {
      readonly name: string;
      /** Round trips of our reader and of the reference. */
      readonly ours: number;
      readonly reference: number;
      readonly oursMs: number;
      readonly referenceMs: number;
      /** Reference by ours. */
      readonly ratio: number;
      readonly goal: number;
    }
  | { readonly name: string; readonly skipped: string };

/** Many switches of one process, read by our reader. */
export interface SwitchesBench {
  readonly name: string;
  readonly answers: number;
  readonly tookMs: number;
  readonly answersPerSecond: number;
}

interface Case {
  readonly name: string;
  readonly described: DescribedSwitch;
  readonly topics: ReadonlySet<ReadTopic>;
}

const what = `${portCount}-port switch at ${delayMs} ms`;
const cases: readonly Case[] = [
  {
    name: `SNMP round trips, ${what}`,
    described: plainSwitch(portCount),
    topics: new Set<ReadTopic>(),
  },
  {
    name: `SNMP round trips with every topic, ${what}`,
    described: fullSwitch(portCount),
    topics: everyTopic,
  },
];

/**
 * Reads a simulated switch with our reader, and with the `snmpbulkwalk` of Debian's package `snmp`
 * once per object of the same list with its defaults; both against the same agent, which counts the
 * requests. First as the policies that are in force by default need it, then with every topic.
 */
export async function benchSnmp(): Promise<readonly SnmpBench[]> {
  const found: SnmpBench[] = [];
  for (const one of cases) found.push(await benchCase(one));
  return found;
}

async function benchCase({ name, described, topics }: Case): Promise<SnmpBench> {
  const agent = await startAgent({ switch: described, delayMs });
  try {
    const ours = await counted(agent, () => readOnce(agent, topics, portCount));
    const reference = await counted(agent, () => walkEach(agent, described, topics));
    return {
      name,
      ours: ours.requests,
      reference: reference.requests,
      oursMs: ours.tookMs,
      referenceMs: reference.tookMs,
      ratio: reference.requests / ours.requests,
      goal,
    };
  } catch (error) {
    if (!missingTool(error)) throw error;
    return { name, skipped: 'snmpbulkwalk is not installed (Debian package snmp)' };
  } finally {
    await agent.stop();
  }
}

/** Reads a thousand switches with every topic; reader and agents share this process. */
export async function benchSwitches(): Promise<SwitchesBench> {
  const shared = fullSwitch(switchPorts);
  const agents = await Promise.all(
    Array.from({ length: switchCount }, () => startAgent({ switch: shared })),
  );
  const limit = pLimit(nodesAtOnceMax);
  const startedMs = performance.now();
  await Promise.all(agents.map((agent) => limit(() => readOnce(agent, everyTopic, switchPorts))));
  const tookMs = Math.round(performance.now() - startedMs);
  const answers = agents.reduce((sum, agent) => sum + agent.requests(), 0);
  await Promise.all(agents.map((agent) => agent.stop()));
  return {
    name: `SNMP, ${switchCount} switches of ${switchPorts} ports, every topic, agents in the same process`,
    answers,
    tookMs,
    answersPerSecond: Math.round((answers * 1000) / tookMs),
  };
}

async function counted(agent: RunningAgent, act: () => Promise<void>) {
  const before = agent.requests();
  const startedMs = performance.now();
  await act();
  return { requests: agent.requests() - before, tookMs: Math.round(performance.now() - startedMs) };
}

/** Reads a switch whole, or throws. */
export async function readOnce(
  agent: Pick<RunningAgent, 'address' | 'port'>,
  topics: ReadonlySet<ReadTopic>,
  count: number,
) {
  const outcome = await readSnmp(
    { address: agent.address, port: agent.port, version: '2c', community: secret('saltmarsh') },
    { peers: [], topics },
    defaultReadLimits,
    new AbortController().signal,
  );
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  const { ports, neighbours, forwarding } = outcome.reading;
  const whole = ports.every(({ facts }) => facts.mtuBytes === 9216 && facts.txFrames === 0);
  if (ports.length !== count || !whole) throw new Error('our reading is not whole');
  const heard = topics.has('neighbours') ? count : undefined;
  if (neighbours?.length !== heard) throw new Error('our list of neighbours is not whole');
  if (heard !== undefined && forwarding?.length !== 2 * count) {
    throw new Error('our list of stations is not whole');
  }
}

/** One walk for the system group, and one for each column that the agent has and a topic needs. */
async function walkEach(
  agent: RunningAgent,
  described: DescribedSwitch,
  wanted: ReadonlySet<ReadTopic>,
): Promise<void> {
  for (const oid of ['1.3.6.1.2.1.1', ...walkedColumns(described, wanted)]) {
    const args = ['-v2c', '-c', 'saltmarsh', '-On', `${agent.address}:${agent.port}`, oid];
    const { stdout } = await promisify(execFile)('snmpbulkwalk', args, { timeout: walkTimeoutMs });
    const rows = stdout.split('\n').filter((line) => line.startsWith(`.${oid}.`)).length;
    if (rows === 0) throw new Error(`snmpbulkwalk read nothing of ${oid}`);
  }
}

/** The columns that an agent has and a topic needs. */
export function walkedColumns(
  described: DescribedSwitch,
  wanted: ReadonlySet<ReadTopic>,
): readonly string[] {
  const served = servedObjects(described).map(({ oid }) => oid);
  return snmpRequests()
    .filter(({ topics }) => topics === undefined || topics.some((topic) => wanted.has(topic)))
    .flatMap(({ objects }) => objects)
    .filter(({ oid }) => !oid.endsWith('.0') && !unasked(oid))
    .filter(({ oid }) => served.some((one) => one.startsWith(`${oid}.`)))
    .map(({ oid }) => oid);
}

/** Our reader asks ifStackTable only of a switch with layered ports; this one has none. */
function unasked(oid: string): boolean {
  return oid === '1.3.6.1.2.1.31.1.2.1.3';
}

function missingTool(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT';
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify([...(await benchSnmp()), await benchSwitches()], null, 2));
}
