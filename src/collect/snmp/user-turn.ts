import type { Trouble, TroubleKind } from '../../facts/trouble.ts';
import type { SnmpAccess } from '../../intent/types.ts';
import type { CredentialLedger } from '../ssh/credential-ledger.ts';

/**
 * How long an agent's answer to a user is waited for before the next agent is asked as that user,
 * in milliseconds, while none has accepted it. A refusal that comes later still counts.
 */
export const answerWaitMs = 1000;

/** One asking of an agent. */
export interface UserTurn<T> {
  readonly access: SnmpAccess;
  readonly signal: AbortSignal;
  readonly ask: () => Promise<T>;
  /** What the agent said of the user; absent: it accepted it. */
  readonly troubleOf: (outcome: T) => Trouble | undefined;
  readonly waitMs?: number;
}

const refusals: ReadonlySet<TroubleKind> = new Set(['auth-wrong', 'level-too-low', 'user-unknown']);

/**
 * Asks an agent as a user, unless several agents have refused that user in this run: then the
 * trouble of that, and nothing is sent. A community is always offered: an agent that does not take
 * it is silent, as a node that is off is, so refusals cannot be counted.
 */
export async function inUserTurn<T>(
  ledger: CredentialLedger,
  turn: UserTurn<T>,
): Promise<T | Trouble> {
  if (turn.access.version === '2c') return turn.ask();
  const user = nameOf(turn.access);
  if (!(await ledger.ask(user, turn.signal))) return turn.signal.aborted ? stopped : spent(turn);
  let told = false;
  const late = setTimeout(() => {
    told = true;
    ledger.tell(user, 'unanswered');
  }, turn.waitMs ?? answerWaitMs);
  try {
    const outcome = await turn.ask();
    const trouble = turn.troubleOf(outcome);
    const refused = trouble !== undefined && refusals.has(trouble.kind);
    if (trouble === undefined) ledger.tell(user, 'accepted');
    else if (!told) ledger.tell(user, refused ? 'refused' : 'unanswered');
    else if (refused) ledger.blame(user);
    told = true;
    return outcome;
  } finally {
    clearTimeout(late);
    if (!told) ledger.tell(user, 'unanswered');
  }
}

/** Names the user and what it is known by; a secret is in it by its name only. */
function nameOf({ user, auth, privacy, secret }: SnmpAccess): string {
  return JSON.stringify(['snmp', user, auth, privacy, secret?.auth, secret?.privacy]);
}

function spent({ access }: Pick<UserTurn<unknown>, 'access'>): Trouble {
  return {
    kind: 'credential-spent',
    seen: `user "${access.user ?? ''}" was refused by several agents in this run and is not used again; this one was not asked`,
    remedy: 'correct the access or its secrets, then run again',
  };
}

const stopped: Trouble = {
  kind: 'time-over',
  seen: 'the run was stopped before this agent was asked',
  remedy: 'run it again',
};
