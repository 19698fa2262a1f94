import type { Gap } from '../facts/gap.ts';
import type { Trouble } from '../facts/trouble.ts';

/** A value, or why it is not known. */
export type Known<T> =
  | { readonly value: T; readonly gap?: never }
  | { readonly gap: Gap; readonly value?: never };

/** A counter as the node gives it. It starts anew after `2 ** bits` (RFC 2578 7.1.6, 7.1.10). */
export interface LiveCount {
  readonly count: bigint;
  readonly bits: 32 | 64;
}

/** Counters that a look has: frames with errors each way, and those of them with a wrong FCS. */
export const liveCounters = ['rxErrors', 'txErrors', 'rxCrcErrors'] as const;
/** A counter that a look has. */
export type LiveCounter = (typeof liveCounters)[number];

/** What one port was at one moment. */
export interface LiveLook {
  readonly adminUp: Known<boolean>;
  readonly up: Known<boolean>;
  readonly speedMbps: Known<number>;
  readonly duplex: Known<'full' | 'half'>;
  readonly autoNegotiation: Known<boolean>;
  /** What the far side offers, as `ethtool` spells link modes. */
  readonly partnerModes: Known<readonly string[]>;
  /** As the node counts it. */
  readonly mtuBytes: Known<number>;
  readonly counters: Readonly<Record<LiveCounter, Known<LiveCount>>>;
  /** How often the link came or went, counted by the node since it started. */
  readonly carrierChanges: Known<number>;
  /** Seconds on the node's clock at which the link became what it is (RFC 2863 ifLastChange). */
  readonly changedAtSeconds: Known<number>;
  /** Changes when the node had to start its counters anew (RFC 2863 ifCounterDiscontinuityTime). */
  readonly discontinuity: Known<number>;
  /** There is no hardware behind the port: its speed is only what its driver says. */
  readonly virtual?: true;
}

/** What one node told at one moment. */
export interface LiveLooks {
  /** When the answer came, in milliseconds since 1970, by this machine's clock. */
  readonly atMs: number;
  /** Seconds since the node, or its agent, started. */
  readonly upSeconds: Known<number>;
  /** By the names that were asked for; a gap: there is no such port, or it does not tell. */
  readonly ports: ReadonlyMap<string, LiveLook | Gap>;
}

/** What happened at a port. */
export type ChangeKind =
  | 'first'
  | 'up'
  | 'down'
  /** The link went and came back, or came and went, between two looks. */
  | 'blink'
  /** Speed, duplex or negotiation, of a link that stayed. */
  | 'line'
  | 'partner'
  | 'mtu'
  | 'admin'
  | 'errors'
  | 'errors-over'
  /** It is not told any more whether there is a link. */
  | 'unknown'
  /** The port is not there, or tells nothing. */
  | 'gone'
  | 'there'
  | 'flapping'
  | 'settled';

/** One change of one port. */
export interface PortChange {
  readonly kind: ChangeKind;
  readonly atMs: number;
  /** What the port is now. */
  readonly look: LiveLook | Gap;
  /** What it was; absent where nothing was known. */
  readonly was?: LiveLook;
  /** `blink`: how often, at least once. `flapping`, `settled`: changes of the link. */
  readonly times?: number;
  /** `blink`: the node counts only the last one. */
  readonly atLeast?: true;
  /** `flapping`, `settled`: how long, in seconds. */
  readonly seconds?: number;
  /** `errors`: frames with errors in a second. */
  readonly perSecond?: number;
}

/** How one connection to a node ended. */
export type LiveEnd =
  /** By its bound, or because the run ends. */
  | { readonly is: 'over' }
  /** The node starts anew and may have other numbers for its ports: it is asked again at once. */
  | { readonly is: 'again' }
  | { readonly is: 'lost'; readonly trouble: Trouble };

/** Takes looks of one node over one connection until that ends. Never throws for what a node does. */
export type WatchNode = (
  onLooks: (looks: LiveLooks) => void,
  signal: AbortSignal,
) => Promise<LiveEnd>;

/** Whether a port is not there, or tells nothing. */
export function isMissing(look: LiveLook | Gap): look is Gap {
  return 'reason' in look;
}

/** Time from one look to the next, in milliseconds. */
export const lookEveryMs = 1000;
/** Ports that one run watches, at most. */
export const livePortsMax = 32;
/** Longest run, in milliseconds: a day. */
export const liveMsMax = 86_400_000;
/** Silence after which a node counts as lost, in milliseconds. */
export const silenceMsMax = 6000;
