import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { must, type Ran, type RunOptions, run, until } from './command.ts';

/**
 * One machine of the lab: a process that holds a network, a mount, a host name and a process
 * namespace. They have no name outside, so nothing is left of them once the holder has ended: the
 * kernel ends every process inside, drops every mount and removes both ends of every cable. The
 * holder itself ends with the process that made it, whatever ended that.
 */
export interface Machine {
  readonly name: string;
  /** The first process inside, as numbered outside. */
  readonly pid: number;
  readonly holder: ChildProcess;
}

const begin = [
  'set -e',
  // A view of /sys with the ports of this network namespace and no other.
  'mount -t sysfs sysfs /sys',
  'mount -t tmpfs tmpfs /run',
  'mkdir -p /run/sshd /run/lldpd',
  'mount -t tmpfs tmpfs /home',
  // A copy, not mounts over single files: those vanish when somebody outside replaces the file.
  'cp -a /etc /run/etc',
  'mount --bind /run/etc /etc',
  'hostname "$1"',
  'ip link set lo up',
  // Otherwise a bridge that hands packets to iptables cuts and joins them, and MTUs mean nothing.
  'sysctl -qw net.bridge.bridge-nf-call-iptables=0 net.bridge.bridge-nf-call-ip6tables=0 || :',
  'echo ready',
  'exec sleep infinity',
].join('\n');

export async function startMachine(name: string): Promise<Machine> {
  const holder = spawn(
    'setpriv',
    [
      ...['--pdeathsig', 'KILL', 'unshare', '--net', '--mount', '--uts', '--pid', '--fork'],
      ...[
        '--kill-child',
        '--mount-proc',
        '--propagation',
        'private',
        'sh',
        '-c',
        begin,
        'sh',
        name,
      ],
    ],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let said = '';
  holder.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString('utf8');
  });
  holder.stderr.on('data', (chunk: Buffer) => {
    said += chunk.toString('utf8');
  });
  await until(`start of ${name}`, async () => {
    if (holder.exitCode !== null) throw new Error(`lab: ${name} did not start: ${said.trim()}`);
    return said.includes('ready');
  });
  return { name, pid: childOf(holder.pid), holder };
}

/** The only child of a process. */
export function childOf(pid: number | undefined): number {
  const text = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim();
  if (!/^\d+$/.test(text)) throw new Error(`lab: process ${pid} has children "${text}"`);
  return Number(text);
}

/** The words that put a command inside a machine; it starts in `folder`. */
export function inside(machine: Machine, argv: readonly string[], folder = '/'): readonly string[] {
  const into = ['-t', String(machine.pid), '-n', '-m', '-u', '-p', `--wd=${folder}`];
  return ['nsenter', ...into, '--', ...argv];
}

export function inNs(
  machine: Machine,
  argv: readonly string[],
  options?: RunOptions,
): Promise<Ran> {
  return run(inside(machine, argv, options?.cwd), options);
}

export function mustInNs(
  machine: Machine,
  argv: readonly string[],
  options?: RunOptions,
): Promise<string> {
  return must(inside(machine, argv, options?.cwd), options);
}

/** Commands of `ip`, one a line, in one process. */
export async function ipBatch(machine: Machine, lines: readonly string[]): Promise<void> {
  if (lines.length === 0) return;
  await mustInNs(machine, ['ip', '-batch', '-'], { input: `${lines.join('\n')}\n` });
}

/** Joins two ports by a cable; both ends are made inside their machines, never outside. */
export async function joinPorts(
  [near, nearPort]: readonly [Machine, string],
  [far, farPort]: readonly [Machine, string],
): Promise<void> {
  await must([
    ...['ip', 'link', 'add', 'name', nearPort, 'netns', String(near.pid)],
    ...['type', 'veth', 'peer', 'name', farPort, 'netns', String(far.pid)],
  ]);
}

/** A path inside a machine, for this process: its own view of `/etc`, `/home` and `/run`. */
export function pathInside(machine: Machine, path: string): string {
  return `/proc/${machine.pid}/root${path}`;
}

/** Ends a machine and everything inside it, and waits until its first process is gone. */
export async function stopMachine(machine: Machine): Promise<void> {
  // The first process rather than its holder, who then buries it at once and ends by itself.
  if (machine.holder.exitCode === null && existsSync(`/proc/${machine.pid}`)) {
    process.kill(machine.pid, 'SIGKILL');
  }
  await until(`end of ${machine.name}`, async () => !existsSync(`/proc/${machine.pid}`));
}
