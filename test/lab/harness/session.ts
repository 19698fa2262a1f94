import { spawn } from 'node:child_process';
import { until } from './command.ts';
import { inNs, inside } from './namespaces.ts';
import { dataAddress } from './plan.ts';
import type { Topology } from './topology.ts';

const tcpPort = '2049';

/**
 * Opens a TCP session from one host to the other and leaves it idle; gives what ends it. The
 * programs are BusyBox's nc, which a machine takes with it when it ends.
 */
export async function openSession(
  topology: Topology,
  [from, to]: readonly [string, string],
): Promise<() => Promise<void>> {
  const [client, server] = [topology.machine(from), topology.machine(to)];
  const begin = (machine: typeof client, argv: readonly string[]) => {
    const [file = '', ...rest] = inside(machine, argv);
    return spawn(file, rest, { stdio: ['pipe', 'ignore', 'ignore'] });
  };
  const listener = begin(server, ['busybox', 'nc', '-l', '-p', tcpPort]);
  const seen = (filter: string) => async () =>
    (await inNs(server, ['ss', '-Hnt', '-a', `sport = :${tcpPort}`])).stdout.includes(filter);
  await until(`${to} listens`, seen('LISTEN'));
  const caller = begin(client, ['busybox', 'nc', dataAddress(topology.node(to)), tcpPort]);
  await until(`session from ${from} to ${to}`, seen('ESTAB'));
  return async () => {
    // The end of its input ends the caller, and that the listener.
    caller.stdin.end();
    listener.stdin.end();
    await until('end of the session', async () => !(await seen('ESTAB')()));
  };
}
