import type { Duplex } from 'node:stream';
import type { AnyAuthMethod, Client, ConnectConfig } from 'ssh2';
import ssh2 from 'ssh2';
import type { DoorFailure, SessionOutcome } from './door-steps.ts';
import { checkHostKey, hostKeyAlgorithms } from './host-key-check.ts';
import type { KnownHost } from './known-hosts.ts';
import type { Login } from './login.ts';
import { type Lost, lostTrouble, type Stage } from './lost.ts';
import type { RunClock } from './run-clock.ts';
import { shellOf } from './shell-of.ts';
import type { Endpoint } from './ssh-target.ts';

/** A key exchange that has been begun. */
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
  return new Promise((resolve) => {
    const client = new ssh2.Client();
    const course = createCourse(handshake, client, resolve);
    const { signal } = handshake.clock;
    if (signal.aborted) return course.lose({ because: 'time' });
    signal.addEventListener('abort', course.onAbort);
    listen(client, course, handshake.login);
    try {
      client.connect(configOf(handshake, course));
    } catch (error) {
      return course.lose({ because: 'fault', words: wordsOf(error) });
    }
    // After connect, which pauses the stream: a listener before it would start the flow.
    handshake.stream.on('data', course.onGreeting);
    return undefined;
  });
}

/** How one handshake goes; it ends once, by `lose` or by `win`. */
interface Course {
  readonly lose: (lost: Pick<Lost, 'because' | 'words'>) => void;
  readonly win: () => void;
  readonly keysExchanged: () => void;
  readonly verify: (key: Buffer) => boolean;
  readonly onAbort: () => void;
  readonly onGreeting: (chunk: Buffer) => void;
  readonly isDone: () => boolean;
}

function createCourse(
  { stream, endpoint, entries, login, clock }: Handshake,
  client: Client,
  resolve: (outcome: SessionOutcome) => void,
): Course {
  let stage: Stage = 'greeting';
  let greeting = Buffer.alloc(0);
  /** The line that names the server has come whole. */
  let named = false;
  let failed: DoorFailure | undefined;
  let hostKey: string | undefined;
  let done = false;
  const destroy = () => {
    client.destroy();
    // The library leaves a stream alone that it has ended already.
    stream.destroy();
  };
  const finish = (outcome: SessionOutcome) => {
    done = true;
    clock.signal.removeEventListener('abort', onAbort);
    stream.removeListener('data', onGreeting);
    if (!outcome.ok) destroy();
    resolve(outcome);
  };
  const lose: Course['lose'] = (lost) => {
    if (done) return;
    if (stage === 'login') login.end(lost.because === 'refused' ? 'refused' : 'lost');
    const whole = { ...lost, stage, greeting, overrun: clock.overrun() };
    const failure = failed ?? lostTrouble(whole, endpoint.where, login);
    finish(hostKey === undefined ? failure : { ...failure, hostKey });
  };
  const onAbort = () => lose({ because: 'time' });
  const onGreeting = (chunk: Buffer) => {
    if (named) return;
    greeting = Buffer.concat([greeting, chunk.subarray(0, greetingBytesMax)]);
    greeting = greeting.subarray(0, greetingBytesMax);
    const said = greeting.toString('latin1');
    if (stage === 'greeting' && /(^|\n)SSH-/.test(said)) stage = 'keys';
    named = /(^|\n)SSH-[^\n]*\n/.test(said) || greeting.length === greetingBytesMax;
  };
  return {
    lose,
    onAbort,
    onGreeting,
    isDone: () => done,
    keysExchanged: () => {
      stage = 'login';
    },
    win: () => {
      if (done) return;
      login.end('accepted');
      const shell = shellOf(endpoint.access, greeting.toString('latin1'));
      finish({ ok: true, session: { client, hostKey: hostKey ?? '', shell, destroy } });
    },
    verify: (key) => {
      const check = checkHostKey(key, endpoint, entries);
      if (!check.ok) {
        failed = { ...check, step: 'host key' };
        return false;
      }
      hostKey = check.fingerprint;
      clock.connected();
      return true;
    },
  };
}

function listen(client: Client, course: Course, login: Login): void {
  // Stays for the life of the client: an error without a listener would end the process.
  client.on('error', (error: LibraryError) => {
    if (error.level === 'agent') login.note('the SSH agent would not sign');
    else course.lose({ because: becauseOf(error), words: error.message });
  });
  client.on('close', () => course.lose({ because: 'closed' }));
  client.on('handshake', course.keysExchanged);
  client.on('change password', () => {
    login.note('the password has expired');
    course.lose({ because: 'refused' });
  });
  client.on('ready', course.win);
}

function configOf({ stream, endpoint, entries, login }: Handshake, course: Course): ConnectConfig {
  return {
    // Any duplex stream does, though the types ask for more.
    sock: stream as NonNullable<ConnectConfig['sock']>,
    username: endpoint.user,
    // The run's own clock bounds it.
    readyTimeout: 0,
    keepaliveInterval: 5_000,
    keepaliveCountMax: 3,
    algorithms: { serverHostKey: hostKeyAlgorithms(endpoint, entries) },
    hostVerifier: course.verify,
    authHandler: (left, partial, next) => {
      login.next(left, partial).then(
        (method) => {
          // The types leave out `false`, which ends the login.
          if (!course.isDone()) next(method as AnyAuthMethod);
        },
        (error: unknown) => course.lose({ because: 'fault', words: wordsOf(error) }),
      );
    },
  };
}

type LibraryError = Error & { readonly level?: string; readonly code?: unknown };

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : 'error';
}

function becauseOf(error: LibraryError): Lost['because'] {
  if (error.level === 'client-authentication') return 'refused';
  if (error.level === 'handshake' && /no matching/i.test(error.message)) return 'no-common-method';
  // Reason 2, protocol error, is what a usual server gives with "Too many authentication failures".
  if (typeof error.code === 'number') return 'disconnected';
  return error.level === 'client-socket' ? 'closed' : 'protocol';
}
