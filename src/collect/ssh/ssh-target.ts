import type { SshAccess } from '../../intent/types.ts';

/** A host to log in to, as the intent names it. */
export interface SshTarget {
  /** Host name, address or alias of the SSH configuration. */
  readonly at: string;
  readonly atPort?: number;
  readonly access: SshAccess;
  /** Fingerprint that the intent declares (`identity.hostKey`), as `SHA256:...`. */
  readonly hostKey?: string;
}

/** Everything that is needed to reach and recognise one host. */
export interface Endpoint {
  readonly host: string;
  readonly port: number;
  /** Name under which known_hosts has it. */
  readonly keyName: { readonly host: string; readonly port: number };
  readonly user: string;
  /** For messages. */
  readonly where: string;
  readonly access: SshAccess;
  readonly keyFile?: string;
  readonly identityFiles: readonly string[];
  readonly identitiesOnly: boolean;
  readonly agentSocket?: string;
  readonly userKnownHosts: readonly string[];
  readonly globalKnownHosts: readonly string[];
  readonly hostKey?: string;
  /** The host to go through last, which may have one of its own. */
  readonly jump?: SshTarget;
}
