import { spawn } from 'node:child_process';
import { closeSync, openSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { until } from './command.ts';
import { childOf, inNs, inside } from './namespaces.ts';
import type { Topology } from './topology.ts';

/** A daemon that runs inside a machine. */
export interface Daemon {
  /** What it is and where, such as `sshd on plot`. */
  readonly name: string;
  /** Its number as seen from outside. */
  readonly pid: number;
  readonly log: string;
  ended(): boolean;
}

export interface DaemonStart {
  readonly node: string;
  /** Short, for the names of its files. */
  readonly what: string;
  readonly argv: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  /** A command inside the machine that ends with status 0 once the daemon answers. */
  readonly ready: readonly string[];
  readonly limitMs?: number;
}

/** Starts a daemon in the foreground inside a machine and waits until it answers. */
export async function startDaemon(topology: Topology, start: DaemonStart): Promise<Daemon> {
  const machine = topology.machine(start.node);
  const name = `${start.what} on ${start.node}`;
  const log = join(topology.directory, `${start.node}-${start.what}.log`);
  const sink = openSync(log, 'a');
  const [file = '', ...rest] = inside(machine, start.argv);
  const child = spawn(file, rest, {
    env: { ...process.env, ...start.env },
    stdio: ['ignore', sink, sink],
  });
  closeSync(sink);
  const ended = () => child.exitCode !== null || child.signalCode !== null;
  await until(
    `${name} answers`,
    async () => {
      if (ended()) throw new Error(`lab: ${name} ended: ${readFileSync(log, 'utf8').trim()}`);
      return (await inNs(machine, start.ready)).code === 0;
    },
    { limitMs: start.limitMs ?? 20_000 },
  );
  return { name, pid: childOf(child.pid), log, ended };
}

/** Ends one daemon, by its number, and waits until it is gone. */
export async function stopDaemon(daemon: Daemon): Promise<void> {
  if (daemon.ended()) return;
  process.kill(daemon.pid, 'SIGTERM');
  await until(`end of ${daemon.name}`, async () => daemon.ended());
}
