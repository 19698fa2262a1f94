import type { SshHost, SshHostOptions } from '../../mocks/ssh-host/ssh-host.ts';
import { answerScript } from '../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../mocks/unix-output/described-host.ts';
import { sshRunner } from '../../src/collect/ssh/ssh-runner.ts';
import { defaultReadLimits, type ReadLimits, type RunScript } from '../../src/collect/types.ts';
import { type SshWorld, targetAt } from '../collect/ssh/ssh-world.ts';
import { closedDoor, type RawDoor } from './raw-doors.ts';

/** A door, and what reads through it. */
export interface OpenDoor {
  readonly run: RunScript;
  readonly stop: () => Promise<void>;
}

/** For doors that end by time alone. */
export const brief: ReadLimits = { ...defaultReadLimits, connectMs: 250, wholeMs: 500 };

/** How a host is read through a door that is made for it. */
export type OpenHost = (host: DescribedHost, world: SshWorld) => Promise<OpenDoor>;

type Place = { readonly port: number; readonly stop?: () => Promise<void> };

/** A runner at a port of loopback; the world cleans up what it made itself. */
export function at(
  { port, stop }: Place,
  world: SshWorld,
  within?: ReadLimits,
  jump?: string,
): OpenDoor {
  const target = targetAt({ address: '127.0.0.1', port } as SshHost, {
    password: 'PASSWORD',
    ...(jump === undefined ? {} : { jump }),
  });
  const run = sshRunner(target, world.deps());
  return {
    run: (script, limits, signal) => run(script, within ?? limits, signal),
    stop: stop ?? (async () => undefined),
  };
}

/** How a host with this in its place is read. */
export const raw =
  (make: () => Promise<RawDoor>, limits?: ReadLimits): OpenHost =>
  async (_, world) =>
    at(await make(), world, limits);

/** The described host with an SSH server, its key on record. */
export async function served(host: DescribedHost, world: SshWorld, more: SshHostOptions = {}) {
  const answer = (script: string) => ({ stdout: answerScript(host, script) ?? '' });
  const running = await world.host({ answer, ...more });
  world.trust(running);
  return running;
}

/** Bytes of an answer that end between two of its commands. */
export function betweenCommands(host: DescribedHost): number {
  const answer = answerScript(host, "M='count'; P=''\n") ?? '';
  const closings = [...answer.matchAll(/\ncount close \d+\n/g)];
  const middle = closings[closings.length >> 1];
  if (middle === undefined) throw new Error('the host runs no commands');
  return middle.index + middle[0].length;
}

/** The host behind a jump host where nobody listens any more. */
export async function goneJump(host: DescribedHost, world: SshWorld): Promise<OpenDoor> {
  const behind = await served(host, world);
  const jump = await closedDoor();
  return at(behind, world, undefined, `auditor@127.0.0.1:${jump.port}`);
}

/** The key of a host on record as that of another port. */
export function trustAt(port: number, { hostKeyLines, ...host }: SshHost, world: SshWorld): void {
  const lines = hostKeyLines.map((line) => line.replace(/:\d+ /, `:${port} `));
  world.trust({ ...host, hostKeyLines: lines });
}
