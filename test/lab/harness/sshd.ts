import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { must, run } from './command.ts';
import { type Daemon, startDaemon } from './daemons.ts';
import { dataAddress, managementAddress, managementAddress6 } from './plan.ts';
import type { Topology } from './topology.ts';
import { auditorHome } from './users.ts';

export interface SshdOptions {
  /** A different name is a different host key. */
  readonly hostKey?: string;
  /** What every login runs, whatever it asks for. */
  readonly forceCommand?: string;
  /** Lines that go before the lab's own: of each setting the first counts (sshd_config(5)). */
  readonly settings?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
}

/** Starts the host's own sshd, with a key of its own, on port 22 of all its addresses. */
export async function startSshd(
  topology: Topology,
  node: string,
  options: SshdOptions = {},
): Promise<Daemon> {
  const config = join(topology.directory, `${node}-sshd_config`);
  const lines = [
    ...(options.settings ?? []),
    'Port 22',
    `HostKey ${await hostKey(topology, node, options.hostKey)}`,
    'UsePAM no',
    'PasswordAuthentication no',
    'KbdInteractiveAuthentication no',
    'PrintMotd no',
    `PidFile ${join(topology.directory, `${node}-sshd.pid`)}`,
    ...(options.forceCommand === undefined ? [] : [`ForceCommand ${options.forceCommand}`]),
  ];
  writeFileSync(config, `${lines.join('\n')}\n`);
  return await startDaemon(topology, {
    ...{ node, what: 'sshd' },
    argv: ['/usr/sbin/sshd', '-D', '-e', '-f', config],
    ...(options.env === undefined ? {} : { env: options.env }),
    ready: ['sh', '-c', 'ss -Hltn sport = :22 | grep -q .'],
  });
}

async function hostKey(topology: Topology, node: string, name = 'first'): Promise<string> {
  const file = join(topology.directory, `${node}-host-key-${name}`);
  const made = await run(['test', '-s', file]);
  if (made.code !== 0) await must(['ssh-keygen', '-q', '-t', 'ed25519', '-N', '', '-f', file]);
  return file;
}

/** Writes the known_hosts of the auditor's home: every host with the key that it has first. */
export async function writeKnownHosts(topology: Topology): Promise<void> {
  const lines: string[] = [];
  for (const node of topology.plan.nodes) {
    if (node.kind === 'switch') continue;
    const key = readFileSync(`${await hostKey(topology, node.name)}.pub`, 'utf8').trim();
    const names = [dataAddress(node), managementAddress(node), managementAddress6(node)];
    lines.push(`${names.join(',')} ${key.split(' ').slice(0, 2).join(' ')}`);
  }
  writeFileSync(join(auditorHome(topology), '.ssh', 'known_hosts'), `${lines.join('\n')}\n`);
}
