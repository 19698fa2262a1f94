import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath, pathToFileURL } from 'node:url';
import pLimit from 'p-limit';
import { nodesAtOnceMax } from '../../src/collect/collect-survey.ts';
import { parseJson } from '../../src/facts/json.ts';
import { plainSwitch } from '../collect/snmp/quay-switch.ts';
import { readOnce, walkedColumns } from './snmp.ts';

const switchCount = 1000;
const portCount = 52;
const delayMs = 20;
/** How many the reference walks: it takes as long for each, and there is no need to wait longer. */
const referenceCount = 60;
const walkTimeoutMs = 600_000;

/** A thousand switches read at once, as many at a time as an audit reads. */
export interface ManySwitchesBench {
  readonly name: string;
  readonly requests: number;
  readonly tookMs: number;
  /** What the requests take at the least: their delay, so many at a time. */
  readonly boundMs: number;
  /** `tookMs` by `boundMs`. */
  readonly ratio: number;
  readonly goal: number;
  /** Times as many switches a second as the reference; absent: it is not installed. */
  readonly timesReference?: number;
  readonly referencePerSecond?: number;
  readonly perSecond: number;
  readonly peakBytes: number;
}

/**
 * Reads switches that answer after a delay, beside the bound that the delay sets, and beside
 * `snmpbulkwalk` (Debian's package `snmp`) once per column by `xargs -P` with as many at a time.
 */
export async function benchManySwitches(): Promise<ManySwitchesBench> {
  const agents = await startAgents();
  try {
    const startedMs = performance.now();
    const limit = pLimit(nodesAtOnceMax);
    await Promise.all(
      agents.ports.map((port) =>
        limit(() => readOnce({ address: '127.0.0.1', port }, new Set(), portCount)),
      ),
    );
    const tookMs = Math.round(performance.now() - startedMs);
    const requests = await agents.requests();
    const boundMs = Math.round((requests * delayMs) / nodesAtOnceMax);
    const perSecond = (switchCount * 1000) / tookMs;
    const referencePerSecond = walkByXargs(agents.ports.slice(0, referenceCount));
    return {
      name: `${switchCount} switches of ${portCount} ports at ${delayMs} ms, ${nodesAtOnceMax} at a time`,
      ...{ requests, tookMs, boundMs, ratio: tookMs / boundMs, goal: 1.25, perSecond },
      ...(referencePerSecond === undefined
        ? {}
        : { referencePerSecond, timesReference: perSecond / referencePerSecond }),
      peakBytes: process.resourceUsage().maxRSS * 1024,
    };
  } finally {
    await agents.stop();
  }
}

async function startAgents() {
  const script = fileURLToPath(new URL('./agents-process.ts', import.meta.url));
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', script, ...[switchCount, portCount, delayMs].map(String)],
    { stdio: ['pipe', 'pipe', 'inherit'] },
  );
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const next = async () => parseJson(String((await lines.next()).value));
  const ports = (await next()) as readonly number[];
  return {
    ports,
    requests: async () => {
      child.stdin.write('\n');
      return Number(await next());
    },
    stop: async () => {
      child.stdin.end();
      if (child.exitCode === null) await once(child, 'exit');
    },
  };
}

/** Switches a second; undefined: the tool is not here. */
function walkByXargs(ports: readonly number[]): number | undefined {
  const oids = ['1.3.6.1.2.1.1', ...walkedColumns(plainSwitch(portCount), new Set())];
  const input = ports.flatMap((port) => oids.map((oid) => `127.0.0.1:${port} ${oid}`)).join('\n');
  // Without MIB files, which it would read anew each time: to its advantage.
  const walk = ['snmpbulkwalk', '-v2c', '-c', 'saltmarsh', '-On', '-m', ''];
  try {
    execFileSync('snmpbulkwalk', ['--version'], { stdio: 'ignore' });
  } catch {
    return undefined;
  }
  const startedMs = performance.now();
  execFileSync('xargs', ['-P', String(nodesAtOnceMax), '-n', '2', ...walk], {
    input,
    timeout: walkTimeoutMs,
    stdio: ['pipe', 'ignore', 'inherit'],
  });
  return (ports.length * 1000) / (performance.now() - startedMs);
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  console.log(JSON.stringify(await benchManySwitches(), null, 2));
}
