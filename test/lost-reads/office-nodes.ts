import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import { loftSwitch, quaySwitch } from '../../mocks/saltmarsh/switches.ts';
import type { DescribedSwitch } from '../../mocks/snmp-agent/described-switch.ts';
import { startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import type { Vice } from '../../mocks/snmp-agent/vices.ts';
import { readHost } from '../../src/collect/read-host.ts';
import { readSnmp } from '../../src/collect/snmp/read-snmp.ts';
import type { SnmpTiming } from '../../src/collect/snmp/target.ts';
import { defaultReadLimits, type ReadOutcome, type RunScript } from '../../src/collect/types.ts';
import { soundHost } from './host-faults.ts';
import { officeTopics, type ReadNode } from './office-run.ts';

const signal = new AbortController().signal;
/** Waits that a sound agent on loopback never uses up. */
const patient: SnmpTiming = { replyTimeoutMs: 3000, retries: 1 };

/** The switches of the office by their names. */
export const officeSwitches: Readonly<Record<string, DescribedSwitch>> = {
  'quay-sw': quaySwitch,
  'loft-sw': loftSwitch,
};

/** Reads one switch over a real socket; `requests` are those that the agent has received. */
export async function readSwitch(
  described: DescribedSwitch,
  vice?: Vice,
  timing: SnmpTiming = patient,
): Promise<{ readonly outcome: ReadOutcome; readonly requests: number }> {
  const agent = await startAgent({ switch: described, ...(vice === undefined ? {} : { vice }) });
  try {
    const target = {
      address: agent.address,
      port: agent.port,
      version: '2c',
      community: { reveal: () => 'saltmarsh' },
      timing,
    } as const;
    const request = { peers: [], topics: officeTopics };
    const outcome = await readSnmp(target, request, defaultReadLimits, signal);
    return { outcome, requests: agent.requests() };
  } finally {
    await agent.stop();
  }
}

/** Reads a host by whatever runs its script. */
export function hostReader(run: RunScript): ReadNode {
  return (request) => readHost(run, request, defaultReadLimits, signal);
}

/** The whole office, with which nothing is wrong; the switches are read here, once. */
export async function soundOffice(): Promise<ReadonlyMap<string, ReadNode>> {
  const hosts = Object.entries(saltmarshHosts).map(
    ([name, host]) => [name, hostReader(soundHost(host))] as const,
  );
  const switches: (readonly [string, ReadNode])[] = [];
  for (const [name, described] of Object.entries(officeSwitches)) {
    const { outcome } = await readSwitch(described);
    switches.push([name, async () => outcome]);
  }
  return new Map([...hosts, ...switches]);
}
