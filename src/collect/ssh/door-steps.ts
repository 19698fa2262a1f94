import type { Client } from 'ssh2';
import type { Trouble } from '../../facts/trouble.ts';
import type { ShellKind } from '../types.ts';

/** The steps of getting in, in their order. */
export const doorSteps = ['name', 'reach', 'host key', 'login', 'shell'] as const;
/** One step of a door. */
export type DoorStep = (typeof doorSteps)[number];

/** A host key that nobody has vouched for yet, ready to be recorded after a yes. */
export interface HostKeyOffer {
  readonly keyType: string;
  readonly fingerprint: string;
  /** Line to append, and the known_hosts file that it belongs into. */
  readonly line: string;
  readonly file: string;
}

/** A logged-in connection. */
export interface Session {
  readonly client: Client;
  /** Fingerprint of the verified host key. */
  readonly hostKey: string;
  /** What runs a script on this host. */
  readonly shell: ShellKind;
  /** Ends the connection at once. */
  readonly destroy: () => void;
}

/** The step at which a door stayed shut, and why. */
export interface DoorFailure {
  readonly ok: false;
  readonly step: DoorStep;
  readonly trouble: Trouble;
  readonly offer?: HostKeyOffer;
  /** Fingerprint, where the host key was found good before something else failed. */
  readonly hostKey?: string;
  /** The server hung up before it said anything: worth one more attempt. */
  readonly hungUp?: boolean;
}

/** A session that is logged in, or the step that failed. */
export type SessionOutcome = { readonly ok: true; readonly session: Session } | DoorFailure;
