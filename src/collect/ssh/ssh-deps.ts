import type { LookupAddress } from 'node:dns';
import type { Duplex } from 'node:stream';
import type { AskSecret } from '../secrets/ask-on-terminal.ts';
import type { FindSecret, Locate } from '../types.ts';
import type { CredentialLedger } from './credential-ledger.ts';
import type { SessionOutcome } from './door-steps.ts';
import type { Keyring } from './keyring.ts';
import type { RunClock } from './run-clock.ts';
import type { OwnAccount, ReadSshSettings } from './ssh-settings.ts';
import type { Endpoint, SshTarget } from './ssh-target.ts';

/** What all SSH connections of one run share. */
export interface SshDeps {
  readonly own: OwnAccount;
  readonly settings: ReadSshSettings;
  /** SSH_AUTH_SOCK; absent: no agent. */
  readonly agentSocket?: string | undefined;
  readonly findSecret: FindSecret;
  /** Absent where there is no terminal. */
  readonly askSecret?: AskSecret | undefined;
  readonly ledger: CredentialLedger;
  readonly keys: Keyring;
  readonly jumps: JumpPool;
  readonly systemSsh: SystemSsh;
  /** Replaces addresses, as the demo does. */
  readonly locate?: Locate | undefined;
  readonly lookup: (name: string) => Promise<readonly LookupAddress[]>;
  /** 0 to 1, for the wait before a second attempt. */
  readonly random: () => number;
  /** Waits; ends early when the signal does. Never rejects. */
  readonly pause: (ms: number, signal: AbortSignal) => Promise<void>;
}

/** The system's own `ssh`, for accesses that ask for it. */
export interface SystemSsh {
  readonly program: string;
  /** All of the environment that it gets. */
  readonly env: Readonly<Record<string, string>>;
  /** Configuration to read in place of the operator's; absent: theirs. */
  readonly configFile?: string;
  /** Waits for its turn: few of them log in at once, since several may go through one jump host. */
  readonly turn: <T>(work: () => Promise<T>) => Promise<T>;
}

/** One attempt to get into a host, and what it leads through. */
export interface Attempt {
  readonly target: SshTarget;
  readonly deps: SshDeps;
  readonly clock: RunClock;
  /** Jump hosts whose connection waits for this one: none of them can be gone through. */
  readonly waiting: readonly string[];
}

/** The connections to jump hosts of one run, each shared by all targets behind it. */
export interface JumpPool {
  /** Opens a stream through the jump host of `attempt` to `endpoint` and gives it to `shake`. */
  readonly through: (
    attempt: Attempt,
    endpoint: Endpoint,
    shake: (stream: Duplex) => Promise<SessionOutcome>,
  ) => Promise<SessionOutcome>;
  /** Ends all of them. To be called at the end of the run. */
  readonly close: () => void;
}
