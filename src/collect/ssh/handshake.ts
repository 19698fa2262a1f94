import type { Duplex } from 'node:stream';
import ssh2 from 'ssh2';
import type { DoorFailure, SessionOutcome } from './door-steps.ts';
import { checkHostKey, hostKeyAlgorithms } from './host-key-check.ts';
import type { KnownHost } from './known-hosts.ts';
import type { Login } from './login.ts';
import { type Lost, lostTrouble, type Stage } from './lost.ts';
import type { RunClock } from './run-clock.ts';
import type { Endpoint } from './ssh-target.ts';

export interface Handshake {
  readonly stream: Duplex;
  readonly endpoint: Endpoint;
  readonly entries: readonly KnownHost[];
  readonly login: Login;
  readonly clock: RunClock;
}

/** Bytes of a greeting that are kept to tell what is there. */
const greetingBytesMax = 512;

/** Exchanges keys, verifies the host and logs in, over a stream that is connected. Never throws. */
export function shakeHands(handshake: Handshake): Promise<SessionOutcome> {
  const { stream, endpoint, entries, login, clock } = handshake;
  return new Promise((resolve) => {
    const client = new ssh2.Client();
    let stage: Stage = 'greeting';
    let greeting = Buffer.alloc(0);
    let failed: DoorFailure | undefined;
    let hostKey: string | undefined;
    let done = false;
    const finish = (outcome: SessionOutcome) => {
      if (done) return;
      done = true;
      clock.signal.removeEventListener('abort', onAbort);
      stream.removeListener('data', onGreeting);
      if (!outcome.ok) destroy();
      resolve(outcome);
    };
    const destroy = () => {
      client.destroy();
      // The library leaves a stream alone that it has ended already.
      stream.destroy();
    };
    const fail = (lost: Lost) => {
      if (done) return;
      if (stage === 'login') login.end(lost.because === 'refused' ? 'refused' : 'lost');
      finish(
        failed ?? { ...lostTrouble(lost, endpoint.where, login), ...(hostKey && { hostKey }) },
      );
    };
    const onAbort = () => fail({ because: 'time', overrun: clock.overrun(), stage, greeting });
    const onGreeting = (chunk: Buffer) => {
      if (greeting.length < greetingBytesMax) {
        greeting = Buffer.concat([greeting, chunk]).subarray(0, greetingBytesMax);
      }
      if (stage === 'greeting' && /(^|\n)SSH-/.test(greeting.toString('latin1'))) stage = 'keys';
    };
    client.on('error', (error: Error & { level?: string; code?: unknown }) => {
      if (error.level === 'agent') login.note('the SSH agent would not sign');
      else fail({ because: becauseOf(error), stage, greeting, words: error.message });
    });
    client.on('close', () => fail({ because: 'closed', stage, greeting }));
    client.on('handshake', () => {
      stage = 'login';
    });
    client.on('change password', () => {
      login.note('the password has expired');
      fail({ because: 'refused', stage, greeting });
    });
    client.on('ready', () => {
      login.end('accepted');
      finish({ ok: true, session: { client, hostKey: hostKey ?? '', destroy } });
    });
    const verify = (key: Buffer): boolean => {
      const check = checkHostKey(key, endpoint, entries);
      if (check.ok) {
        hostKey = check.fingerprint;
        clock.connected();
      } else failed = { ...check, step: 'host key' };
      return check.ok;
    };
    if (clock.signal.aborted) return onAbort();
    clock.signal.addEventListener('abort', onAbort);
    try {
      client.connect({
        sock: stream as never,
        username: endpoint.user,
        readyTimeout: 0,
        keepaliveInterval: 5_000,
        keepaliveCountMax: 3,
        algorithms: { serverHostKey: hostKeyAlgorithms(endpoint, entries) },
        hostVerifier: verify,
        authHandler: (left, partial, next) => {
          login.next(left, partial).then(
            (method) => {
              if (!done) next(method as never);
            },
            (error: Error) => fail({ because: 'fault', stage, greeting, words: error.message }),
          );
        },
      });
    } catch (error) {
      const words = error instanceof Error ? error.message : 'error';
      return fail({ because: 'fault', stage, greeting, words });
    }
    // After connect, which pauses the stream: a listener before it would start the flow.
    stream.on('data', onGreeting);
    return undefined;
  });
}

function becauseOf(error: Error & { level?: string; code?: unknown }): Lost['because'] {
  if (error.level === 'client-authentication') return 'refused';
  if (error.level === 'handshake' && /no matching/i.test(error.message)) return 'no-common-method';
  // Reason 2, protocol error, is what a usual server gives with "Too many authentication failures".
  if (typeof error.code === 'number') return 'disconnected';
  return error.level === 'client-socket' ? 'closed' : 'protocol';
}
