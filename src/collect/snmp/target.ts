import type { AuthProtocol, PrivacyProtocol } from '../../intent/types.ts';
import type { Secret } from '../types.ts';

/** Wait for a reply before the request is sent again, in milliseconds. */
export const replyTimeoutMsDefault = 1500;
/** How often a request is sent again. */
export const retriesDefault = 2;
/** Each wait is this many times the one before. */
export const backoffDefault = 2;
/** UDP port of an agent (RFC 3417, 3.1). */
export const snmpPortDefault = 161;
/** Shortest password that a v3 key may be made of (RFC 3414, 11.2). */
export const secretLengthMin = 8;

/** How long to wait for one reply, and how often to ask again. */
export interface SnmpTiming {
  readonly replyTimeoutMs?: number;
  readonly retries?: number;
  readonly backoff?: number;
}

interface TargetPlace {
  /** Literal IPv4 or IPv6 address; a host name would be looked up on every datagram. */
  readonly address: string;
  /** UDP port; absent: 161. */
  readonly port?: number;
  readonly timing?: SnmpTiming;
}

/** An agent asked by community, in clear text. */
export interface CommunityTarget extends TargetPlace {
  readonly version: '2c';
  readonly community: Secret;
}

/** An agent asked as a user (RFC 3414). No `auth`: noAuthNoPriv; `privacy` needs `auth`. */
export interface UserTarget extends TargetPlace {
  readonly version: '3';
  readonly user: string;
  readonly auth?: { readonly protocol: AuthProtocol; readonly secret: Secret };
  readonly privacy?: { readonly protocol: PrivacyProtocol; readonly secret: Secret };
  readonly context?: string;
}

/** One agent and how to ask it. */
export type SnmpTarget = CommunityTarget | UserTarget;
