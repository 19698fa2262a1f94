import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { DoorFailure, DoorStep } from './door-steps.ts';
import type { Login } from './login.ts';
import type { Overrun } from './run-clock.ts';
import { quoted, troubleOf } from './trouble.ts';

/** How far a handshake came: nothing said yet, keys being exchanged, logging in. */
export type Stage = 'greeting' | 'keys' | 'login';

/** How a handshake was lost. */
export interface Lost {
  readonly because:
    | 'time'
    | 'closed'
    | 'disconnected'
    | 'protocol'
    | 'refused'
    | 'no-common-method'
    | 'fault';
  readonly stage: Stage;
  /** What the server said first, cut. */
  readonly greeting: Buffer;
  readonly overrun?: Overrun | undefined;
  /** Of the library, or of the server by way of it. */
  readonly words?: string;
}

/** What a lost handshake means for the operator. */
export function lostTrouble(lost: Lost, where: string, login: Login): DoorFailure {
  if (lost.because === 'time') return { ok: false, ...inTime(lost, where) };
  if (lost.because === 'refused') return at('login', login.trouble());
  if (lost.because === 'fault') {
    const seen = `hopgauge failed at ${where}: ${cleanText(lost.words ?? '')}`;
    return at('login', troubleOf('fault', seen, 'report this, with the output of --verbose'));
  }
  if (lost.because === 'no-common-method') return at('host key', noCommonMethod(lost, where));
  if (lost.stage === 'greeting') return atGreeting(lost, where);
  if (lost.stage === 'keys') return at('host key', duringKeys(lost, where));
  return at('login', duringLogin(lost, login));
}

function at(step: DoorStep, trouble: Trouble): DoorFailure {
  return { ok: false, step, trouble };
}

function inTime({ overrun, stage, greeting }: Lost, where: string): Omit<DoorFailure, 'ok'> {
  if (overrun === 'stopped') {
    const step = stage === 'login' ? 'login' : 'reach';
    return {
      step,
      trouble: troubleOf('time-over', `${where}: the run was stopped`, 'run it again'),
    };
  }
  if (stage === 'greeting' && greeting.length === 0) {
    const seen = `${where} accepts the connection and then says nothing`;
    const remedy = 'check that an SSH server listens on this port; it may be overloaded or asleep';
    return { step: 'reach', trouble: troubleOf('no-answer', seen, remedy) };
  }
  if (stage === 'greeting') return { step: 'reach', trouble: notSsh(greeting, where) };
  const what = stage === 'login' ? 'the login' : 'the exchange of keys';
  const seen = `${what} at ${where} did not end in time`;
  const remedy =
    'a slow login is often a name server that the host waits for; raise the time limit';
  return {
    step: stage === 'login' ? 'login' : 'host key',
    trouble: troubleOf('time-over', seen, remedy),
  };
}

/** What a usual server says, in clear text, when it turns a connection away unheard. */
const busyWords = /^(Exceeded MaxStartups|Not allowed at this time)/;

function atGreeting({ greeting }: Lost, where: string): DoorFailure {
  const said = greeting.toString('latin1');
  const busy = busyWords.exec(said)?.[1];
  if (greeting.length > 0 && busy === undefined) return at('reach', notSsh(greeting, where));
  const words = busy === undefined ? '' : `, saying ${quoted(said)}`;
  const trouble = troubleOf(
    'server-busy',
    `${where} took the connection and closed it before any greeting${words}`,
    'it may limit logins in progress (MaxStartups) or shut this address out for a while; or what listens there is not SSH',
  );
  // A penalty for this address lasts longer than any wait of ours, and another try prolongs it.
  const penalty = busy?.startsWith('Not allowed') === true;
  return { ok: false, step: 'reach', trouble, hungUp: !penalty };
}

function notSsh(greeting: Buffer, where: string): Trouble {
  const seen = `${where} does not speak SSH: it says ${quoted(greeting.toString('latin1'))}`;
  return troubleOf('not-ssh', seen, 'correct the port');
}

function duringKeys({ words, because }: Lost, where: string): Trouble {
  const said = because === 'closed' || words === undefined ? '' : ` (${cleanText(words, 120)})`;
  const seen = `${where} greets as SSH, but the exchange of keys broke off${said}`;
  if (because === 'protocol') {
    return troubleOf(
      'not-ssh',
      seen,
      'check that an SSH server, and nothing between, answers there',
    );
  }
  return troubleOf('server-busy', seen, 'try again; look into the log of the host if it stays so');
}

function noCommonMethod({ words }: Lost, where: string): Trouble {
  return troubleOf(
    'no-common-method',
    `${where} and hopgauge have no method of SSH in common (${cleanText(words ?? '', 120)})`,
    'update the SSH server of the host: what it offers is out of use',
  );
}

function duringLogin({ words, because }: Lost, login: Login): Trouble {
  const said = because === 'closed' || words === undefined ? '' : `, saying ${quoted(words)}`;
  login.note(`it closed the connection during the login${said}`);
  return login.trouble();
}
