import type { Duplex } from 'node:stream';
import { outOfFilesCode } from '../../facts/out-of-files.ts';
import type { Trouble } from '../../facts/trouble.ts';
import { planCredentials } from './credentials.ts';
import type { DoorFailure, DoorStep, SessionOutcome } from './door-steps.ts';
import { endpointOf } from './endpoint.ts';
import { shakeHands } from './handshake.ts';
import { readKnownHosts } from './known-hosts-file.ts';
import { createLogin } from './login.ts';
import { findAddresses, reach } from './reach.ts';
import type { Attempt } from './ssh-deps.ts';
import type { Endpoint, SshTarget } from './ssh-target.ts';
import { filesSpent, troubleOf } from './trouble.ts';

/** Wait before the one further attempt at a server that hung up: this, plus as much at random. */
export const busyWaitMs = 600;

/** Reaches a host, verifies its key and logs in, each step once. Never throws. */
export async function openSession(attempt: Attempt): Promise<SessionOutcome> {
  const { target } = attempt;
  if (target.access.through === 'system') return failure('login', notKept(target));
  try {
    return await openOnce(attempt);
  } catch (error) {
    // Files of known hosts that could not be opened must not read as a host that nobody knows.
    const code = outOfFilesCode(error);
    if (code === undefined) throw error;
    return failure('reach', filesSpent(target.at, code));
  }
}

async function openOnce(attempt: Attempt): Promise<SessionOutcome> {
  const { target, deps, clock } = attempt;
  const found = await endpointOf(target, deps);
  if (!found.ok) return failure('name', found.trouble);
  const { endpoint } = found;
  const first = await tryOnce(attempt, endpoint);
  if (first.ok || first.hungUp !== true || clock.signal.aborted) return first;
  await deps.pause(busyWaitMs * (1 + deps.random()), clock.signal);
  return clock.signal.aborted ? first : tryOnce(attempt, endpoint);
}

/** `transfer` and `live` keep a connection, and hold it by the library alone. */
function notKept({ at }: SshTarget): Trouble {
  return troubleOf(
    'login-refused',
    `${at} is logged in to by the system's ssh (through: system), which can be asked for a reading or a fit and keeps no connection`,
    'for this, give the node a key or an agent of its own, without through: system',
  );
}

async function tryOnce(attempt: Attempt, endpoint: Endpoint): Promise<SessionOutcome> {
  const { deps, clock } = attempt;
  const files = [...endpoint.userKnownHosts, ...endpoint.globalKnownHosts];
  const entries = await readKnownHosts(files);
  const candidates = await planCredentials({
    user: endpoint.user,
    where: endpoint.where,
    access: endpoint.access,
    identityFiles: endpoint.identityFiles,
    identitiesOnly: endpoint.identitiesOnly,
    agentSocket: endpoint.agentSocket,
    keyFile: endpoint.keyFile,
    home: deps.own.home,
    findSecret: deps.findSecret,
    askSecret: deps.askSecret,
    keys: deps.keys,
  });
  const shake = (stream: Duplex) => {
    const { signal, hold } = clock;
    const { user, where } = endpoint;
    const login = createLogin({ user, where, candidates, ledger: deps.ledger, signal, hold });
    return shakeHands({ stream, endpoint, entries, login, clock });
  };
  if (endpoint.jump !== undefined) {
    return deps.jumps.through({ ...attempt, target: endpoint.jump }, endpoint, shake);
  }
  const named = await findAddresses(endpoint, deps.lookup, clock.signal);
  if (!named.ok) return failure('name', named.trouble);
  const reached = await reach(endpoint, named.addresses, clock.signal);
  return reached.ok ? shake(reached.socket) : failure('reach', reached.trouble);
}

function failure(step: DoorStep, trouble: DoorFailure['trouble']): DoorFailure {
  return { ok: false, step, trouble };
}
