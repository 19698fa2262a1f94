import { execFile } from 'node:child_process';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { type RunningAgent, startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import { readSnmp } from '../../src/collect/snmp/read-snmp.ts';
import { snmpRequests } from '../../src/collect/snmp/snmp-requests.ts';
import { defaultReadLimits } from '../../src/collect/types.ts';
import { everyTopic } from '../../src/facts/read-topics.ts';
import { plainSwitch, secret } from '../collect/snmp/quay-switch.ts';

const portCount = 52;
const delayMs = 20;
/** Times fewer round trips than the reference tool. */
const goal = 5;
const walkTimeoutMs = 60_000;

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

const name = `SNMP round trips, ${portCount}-port switch at ${delayMs} ms`;

/**
 * Reads one simulated switch with our reader, and with the `snmpbulkwalk` of Debian's package
 * `snmp` once per object of the same list with its defaults; both against the same agent, which
 * counts the requests.
 */
export async function benchSnmp(): Promise<SnmpBench> {
  const agent = await startAgent({ switch: plainSwitch(portCount), delayMs });
  try {
    const ours = await counted(agent, () => readOnce(agent));
    const reference = await counted(agent, () => walkEach(agent));
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

async function counted(agent: RunningAgent, act: () => Promise<void>) {
  const before = agent.requests();
  const startedMs = performance.now();
  await act();
  return { requests: agent.requests() - before, tookMs: Math.round(performance.now() - startedMs) };
}

async function readOnce(agent: RunningAgent): Promise<void> {
  const outcome = await readSnmp(
    { address: agent.address, port: agent.port, version: '2c', community: secret('saltmarsh') },
    { peers: [], topics: everyTopic },
    defaultReadLimits,
    new AbortController().signal,
  );
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  const { ports } = outcome.reading;
  const whole = ports.every(({ facts }) => facts.mtuBytes === 9216 && facts.txFrames === 0);
  if (ports.length !== portCount || !whole) throw new Error('our reading is not whole');
}

async function walkEach(agent: RunningAgent): Promise<void> {
  // The system group is one walk; every other object is a column of its own.
  const columns = snmpRequests()
    .flatMap(({ objects }) => objects)
    .filter(({ oid }) => !oid.endsWith('.0') && !unasked(oid));
  for (const { oid } of [{ oid: '1.3.6.1.2.1.1' }, ...columns]) {
    const args = ['-v2c', '-c', 'saltmarsh', '-On', `${agent.address}:${agent.port}`, oid];
    const { stdout } = await promisify(execFile)('snmpbulkwalk', args, { timeout: walkTimeoutMs });
    const rows = stdout.split('\n').filter((line) => line.startsWith(`.${oid}.`)).length;
    if (rows === 0) throw new Error(`snmpbulkwalk read nothing of ${oid}`);
  }
}

/** Our reader asks ifStackTable only of a switch with layered ports; this one has none. */
function unasked(oid: string): boolean {
  return oid === '1.3.6.1.2.1.31.1.2.1.3';
}

function missingTool(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT';
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify(await benchSnmp(), null, 2));
}
