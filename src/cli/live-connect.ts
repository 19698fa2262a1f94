import { localTalk } from '../collect/local/local-talk.ts';
import { inUserTurn } from '../collect/snmp/user-turn.ts';
import { openSession } from '../collect/ssh/open-session.ts';
import { startClock } from '../collect/ssh/run-clock.ts';
import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import { talkOver } from '../collect/ssh/ssh-talk.ts';
import type { OpenTalk } from '../collect/talk.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { Access, SnmpAccess, SshAccess } from '../intent/types.ts';
import type { Connected } from '../probe/keep-watching.ts';
import { lookEveryMs } from '../probe/live-types.ts';
import { watchHost } from '../probe/watch-host.ts';
import type { Io } from './io.ts';
import type { LiveNode } from './live-targets.ts';
import { agentPlace, sshTargetOf } from './node-reader.ts';
import { snmpTarget } from './snmp-target.ts';

/** Limits of one login, in milliseconds. */
const loginLimits = { connectMs: 5000, wholeMs: 20_000, outputBytesMax: 0 } as const;
/** Longest wait for the numbers of an agent's ports, in milliseconds. */
const findMsMax = 20_000;

/** What the connections of one live run share. */
export interface LiveAround {
  readonly io: Io;
  readonly ssh: SshDeps;
  /** When the run ends, by its own bound. */
  readonly untilMs: number;
}

/** Logs in to a node once, so that it can be watched. */
export async function connectLive(
  node: LiveNode,
  around: LiveAround,
  signal: AbortSignal,
): Promise<Connected> {
  const { access } = node;
  if (access === undefined) return { ok: false, trouble: noDoor(node.name) };
  switch (access.via) {
    case 'local':
      return hostWatch(node, around, localTalk);
    case 'ssh':
      return connectSsh(node, { access, around, signal });
    case 'snmp':
      return connectAgent(node, { access, around, signal });
  }
}

interface Turn<A extends Access> {
  readonly access: A;
  readonly around: LiveAround;
  readonly signal: AbortSignal;
}

function hostWatch(node: LiveNode, { io, untilMs }: LiveAround, open: OpenTalk): Connected {
  const leftMs = untilMs - io.now().getTime();
  return {
    ok: true,
    watch: (onLooks, signal) =>
      watchHost({
        where: node.declared?.at ?? 'this machine',
        open,
        ports: node.ports.map(({ name }) => name),
        looks: Math.max(1, Math.ceil(leftMs / lookEveryMs)),
        onLooks,
        signal,
        now: io.now,
      }),
  };
}

async function connectSsh(
  node: LiveNode,
  { access, around, signal }: Turn<SshAccess>,
): Promise<Connected> {
  const place = node.declared ?? { name: node.name };
  const target = sshTargetOf(place, access, node.declared?.identity.hostKey);
  const clock = startClock(loginLimits, signal);
  try {
    const opened = await openSession({ target, deps: around.ssh, clock, waiting: [] });
    if (!opened.ok) return { ok: false, trouble: opened.trouble };
    const { session } = opened;
    if (session.shell === 'powershell') {
      session.destroy();
      return { ok: false, trouble: windows(target.at) };
    }
    return hostWatch(node, around, (start) => talkOver(session, start, target.at));
  } finally {
    clock.stop();
  }
}

async function connectAgent(
  node: LiveNode,
  { access, around, signal }: Turn<SnmpAccess>,
): Promise<Connected> {
  const { io, ssh } = around;
  const place = await agentPlace(node.declared ?? { name: node.name }, access, io);
  if ('kind' in place) return { ok: false, trouble: place };
  const made = await snmpTarget(access, place, io.findSecret);
  if (!made.ok) return made;
  // Loaded here, since a host alone should not pay for it.
  const { openAgent, watchAgent } = await import('../probe/watch-agent.ts');
  const opened = await inUserTurn(ssh.ledger, {
    access,
    signal,
    ask: () => openAgent(made.target, node.ports, { signal, findMsMax }),
    troubleOf: (outcome) => ('kind' in outcome ? outcome : undefined),
  });
  if ('kind' in opened) return { ok: false, trouble: opened };
  return {
    ok: true,
    watch: (onLooks, stop) => watchAgent(opened, { onLooks, signal: stop, now: io.now }),
  };
}

function noDoor(name: string): Trouble {
  return {
    kind: 'system-unknown',
    seen: `nobody can log in to ${name} to watch it`,
    remedy: 'give it an access in the intent, or look at it by hand',
  };
}

function windows(at: string): Trouble {
  return {
    kind: 'system-unknown',
    seen: `${at} runs Windows, which is not watched`,
    remedy: 'watch the other end of the link',
  };
}
