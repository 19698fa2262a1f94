import type { Duplex } from 'node:stream';
import pLimit from 'p-limit';
import type { Trouble } from '../../facts/trouble.ts';
import { defaultReadLimits } from '../types.ts';
import type { DoorFailure, Session, SessionOutcome } from './door-steps.ts';
import { jumpHopsMax } from './endpoint.ts';
import { forwardTrouble } from './forward-trouble.ts';
import { openSession } from './open-session.ts';
import { type RunClock, startClock } from './run-clock.ts';
import type { Attempt, JumpPool } from './ssh-deps.ts';
import type { Endpoint, SshTarget } from './ssh-target.ts';
import { troubleOf } from './trouble.ts';

/** Handshakes at once through one jump host, which counts them all against its own limit. */
export const handshakesPerJumpMax = 5;
/** Connections made to one jump host in one run, where it keeps losing them. */
export const jumpConnectionsMax = 3;

interface Jump {
  readonly limit: ReturnType<typeof pLimit>;
  session: Promise<SessionOutcome> | undefined;
  connections: number;
}

/** An empty pool for one run. */
export function createJumpPool(): JumpPool {
  const jumps = new Map<string, Jump>();
  const stop = new AbortController();
  const open = new Set<Session>();
  return {
    through: async (attempt, endpoint, shake) => {
      const name = nameOf(attempt.target);
      const { waiting } = attempt;
      if (waiting.length >= jumpHopsMax || waiting.includes(name)) {
        return failure('reach', circle(attempt.target.at));
      }
      const jump = jumps.get(name) ?? freshJump();
      jumps.set(name, jump);
      const opening = jumpSession(jump, { attempt, name, open, stop: stop.signal });
      const waited = untilAborted(opening, attempt.clock.signal);
      // The jump host has a clock of its own. One that waits for another jump host keeps its own
      // clock running, or two that wait for each other would wait for ever.
      const outcome = await (waiting.length > 0 ? waited : attempt.clock.hold(waited));
      if (outcome === undefined) return failure('reach', tooSlow(attempt.target.at));
      if (!outcome.ok) return failure('reach', jumpFailed(attempt.target.at, outcome.trouble));
      const { client } = outcome.session;
      const { clock } = attempt;
      return inTurn(jump.limit, clock, async () => {
        const stream = await forward(client, endpoint, clock.signal);
        if ('trouble' in stream) {
          return failure(
            'reach',
            forwardTrouble(attempt.target.at, endpoint.where, stream.trouble),
          );
        }
        return shake(stream.stream);
      });
    },
    close: () => {
      stop.abort();
      for (const session of open) session.destroy();
      open.clear();
    },
  };
}

function freshJump(): Jump {
  return { limit: pLimit(handshakesPerJumpMax), session: undefined, connections: 0 };
}

function nameOf({ at, atPort, access }: SshTarget): string {
  return JSON.stringify([at, atPort ?? null, access.user ?? null, access.jump ?? null]);
}

interface Around {
  readonly attempt: Attempt;
  readonly name: string;
  readonly open: Set<Session>;
  readonly stop: AbortSignal;
}

/** One connection for all; a refusal stands for the whole run, or it would be repeated per target. */
function jumpSession(jump: Jump, around: Around): Promise<SessionOutcome> {
  if (jump.session !== undefined) return jump.session;
  jump.connections += 1;
  const begun = connectJump(around);
  jump.session = begun;
  begun.then((outcome) => {
    if (!outcome.ok) return;
    around.open.add(outcome.session);
    if (around.stop.aborted) outcome.session.destroy();
    outcome.session.client.on('error', () => undefined);
    outcome.session.client.on('close', () => {
      around.open.delete(outcome.session);
      if (jump.connections < jumpConnectionsMax) jump.session = undefined;
    });
  }, ignore);
  return begun;
}

async function connectJump({ attempt, name, stop }: Around): Promise<SessionOutcome> {
  // Its own clock: the first target's end must not take the connection from the others.
  const clock: RunClock = startClock(defaultReadLimits, stop);
  try {
    return await openSession({ ...attempt, clock, waiting: [...attempt.waiting, name] });
  } finally {
    clock.stop();
  }
}

type Forwarded = { readonly stream: Duplex } | { readonly trouble: string };

function forward(
  client: Session['client'],
  { host, port }: Endpoint,
  signal: AbortSignal,
): Promise<Forwarded> {
  return new Promise((resolve) => {
    const onAbort = () => resolve({ trouble: 'timed out' });
    if (signal.aborted) return onAbort();
    signal.addEventListener('abort', onAbort, { once: true });
    try {
      client.forwardOut('127.0.0.1', 0, host, port, (error, stream) => {
        signal.removeEventListener('abort', onAbort);
        if (error !== undefined) return resolve({ trouble: error.message });
        stream.on('error', ignore);
        if (signal.aborted) stream.destroy();
        return resolve({ stream });
      });
    } catch {
      resolve({ trouble: 'the connection to the jump host was lost' });
    }
    return undefined;
  });
}

function failure(step: DoorFailure['step'], trouble: Trouble): DoorFailure {
  return { ok: false, step, trouble };
}

/** Does work when its turn comes; the queue is not the target's time. */
async function inTurn<T>(
  limit: Jump['limit'],
  clock: RunClock,
  work: () => Promise<T>,
): Promise<T> {
  let begin = () => {};
  const turn = new Promise<void>((resolve) => {
    begin = resolve;
  });
  const done = limit(() => {
    begin();
    return work();
  });
  await clock.hold(turn);
  return done;
}

/** Two targets may each wait for the other's jump host: only the clock ends that. */
function untilAborted<T>(work: Promise<T>, signal: AbortSignal): Promise<T | undefined> {
  return new Promise((resolve, reject) => {
    const onAbort = () => resolve(undefined);
    if (signal.aborted) onAbort();
    signal.addEventListener('abort', onAbort, { once: true });
    work.then(resolve, reject).finally(() => signal.removeEventListener('abort', onAbort));
  });
}

function circle(at: string): Trouble {
  const seen = `the way leads through jump host ${at} to itself, or through more than ${jumpHopsMax}`;
  return troubleOf('jump-failed', seen, 'correct ProxyJump in the SSH configuration');
}

function tooSlow(at: string): Trouble {
  const seen = `the connection to jump host ${at} was not there in time`;
  return troubleOf('jump-failed', seen, 'run: hopgauge access, and see which step fails');
}

function jumpFailed(at: string, inner: Trouble): Trouble {
  const { fingerprint, expected } = inner;
  return {
    ...troubleOf('jump-failed', `jump host ${at}: ${inner.seen}`, inner.remedy),
    ...(fingerprint === undefined ? {} : { fingerprint }),
    ...(expected === undefined ? {} : { expected }),
  };
}

function ignore(): void {}
