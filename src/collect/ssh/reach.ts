import type { LookupAddress } from 'node:dns';
import { connect, isIP, type Socket } from 'node:net';
import type { Trouble } from '../../facts/trouble.ts';
import { filesSpent, troubleOf } from './trouble.ts';

/** Addresses of one name that are tried, at most. */
export const addressesTriedMax = 8;

/** A place to connect to, and how long that may take. */
export interface Whither {
  readonly host: string;
  readonly port: number;
  readonly where: string;
}

/** The addresses of a name, or why there are none. */
export type NameOutcome =
  | { readonly ok: true; readonly addresses: readonly LookupAddress[] }
  | { readonly ok: false; readonly trouble: Trouble };

/** Turns a host's name into addresses; a literal address is its own. */
export async function findAddresses(
  { host, where }: Whither,
  lookup: (name: string) => Promise<readonly LookupAddress[]>,
  signal: AbortSignal,
): Promise<NameOutcome> {
  const family = isIP(host);
  if (family !== 0) return { ok: true, addresses: [{ address: host, family }] };
  try {
    const found = await Promise.race([lookup(host), whenAborted(signal)]);
    if (found.length > 0) return { ok: true, addresses: found.slice(0, addressesTriedMax) };
    return { ok: false, trouble: nameUnknown(where, host, 'no address') };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? 'no answer in time';
    return { ok: false, trouble: nameUnknown(where, host, code) };
  }
}

function whenAborted(signal: AbortSignal): Promise<never> {
  return new Promise((_resolve, reject) => {
    const stop = () => reject(new Error('aborted'));
    if (signal.aborted) stop();
    signal.addEventListener('abort', stop, { once: true });
  });
}

function nameUnknown(where: string, host: string, code: string): Trouble {
  // An alias of the SSH configuration stands for another name.
  const of = where.startsWith(host) ? '' : ` of ${where}`;
  return troubleOf(
    'name-unknown',
    `the name ${host}${of} leads to no address (${code})`,
    'correct the name in the intent, or give the address',
  );
}

/** A connected socket, or why there is none. */
export type ReachOutcome =
  | { readonly ok: true; readonly socket: Socket }
  | { readonly ok: false; readonly trouble: Trouble };

/** Opens a TCP connection to the first of the addresses that answers. */
export function reach(
  whither: Whither,
  addresses: readonly LookupAddress[],
  signal: AbortSignal,
): Promise<ReachOutcome> {
  return new Promise((resolve) => {
    const socket = connect({
      host: whither.host,
      port: whither.port,
      autoSelectFamily: true,
      // A handshake is many small packets: without this each waits for the other side's late ACK.
      noDelay: true,
      lookup: (_name, options, done) => {
        const [first] = addresses;
        if (options.all === true) done(null, [...addresses]);
        else done(null, first?.address ?? '', first?.family);
      },
    });
    const finish = (outcome: ReachOutcome) => {
      signal.removeEventListener('abort', onAbort);
      socket.removeListener('error', onError);
      // Whatever a socket still says after this must not end the process.
      socket.on('error', () => undefined);
      if (!outcome.ok) socket.destroy();
      resolve(outcome);
    };
    const onError = (error: Error) =>
      finish({ ok: false, trouble: reachTrouble(whither, addresses, codeOf(error)) });
    const onAbort = () =>
      finish({ ok: false, trouble: reachTrouble(whither, addresses, 'ETIMEDOUT') });
    if (signal.aborted) return onAbort();
    signal.addEventListener('abort', onAbort);
    socket.once('connect', () => finish({ ok: true, socket }));
    socket.once('error', onError);
    return undefined;
  });
}

function codeOf(error: Error): string {
  const inner = error instanceof AggregateError ? error.errors : [error];
  const codes = inner.map((each: NodeJS.ErrnoException) => each.code ?? 'error');
  // One address that refuses says more than another that cannot be reached.
  return codes.find((code) => code === 'ECONNREFUSED') ?? codes[0] ?? 'error';
}

const noRouteCodes = new Set([
  'EHOSTUNREACH',
  'ENETUNREACH',
  'EADDRNOTAVAIL',
  'ENETDOWN',
  'EHOSTDOWN',
]);

/** The trouble that a failed TCP connection means. */
export function reachTrouble(
  { host, port, where }: Whither,
  addresses: readonly LookupAddress[],
  code: string,
): Trouble {
  const shown = addresses.map((each) => each.address).join(', ') || host;
  const to = shown === host ? `${host} port ${port}` : `${where} (${shown} port ${port})`;
  if (code === 'ECONNREFUSED') {
    return troubleOf(
      'refused',
      `${to} refuses the connection: the host is up, and no SSH server listens there`,
      'switch the SSH server on (on macOS: Remote Login), or correct the port',
    );
  }
  if (noRouteCodes.has(code)) {
    return troubleOf(
      'no-route',
      `there is no way to ${to} (${code})`,
      'check that the host is up and that this machine has a route to it',
    );
  }
  if (code === 'EMFILE' || code === 'ENFILE') return filesSpent(to, code);
  if (code === 'ETIMEDOUT') {
    return troubleOf(
      'no-answer',
      `${to} does not answer`,
      'check that the host is awake and that no firewall drops the connection',
    );
  }
  return troubleOf('no-answer', `no connection to ${to} (${code})`, 'check the way to the host');
}
