/** What active tests have shown of one direction of a path. Sizes are IP packets in bytes. */
export interface FitSeen {
  readonly from: string;
  readonly to: string;
  readonly toAddress?: string;
  /** Packet that is to pass. */
  readonly wantedBytes: number;
  /** Largest that passed; absent: none is known to. */
  readonly provenBytes?: number;
  /** Absent: nothing is known to be lost. */
  readonly loss?: LossSeen;
}

/** A size that does not pass. */
export interface LossSeen {
  readonly bytes: number;
  /** Who says so; `silence`: nobody. */
  readonly by: 'interface' | 'route' | 'router' | 'learnt' | 'silence';
  /** What passes instead, where that was said. */
  readonly mtuBytes?: number;
  /** Port of the sender. */
  readonly device?: string;
  /** Address of the router that said so. */
  readonly router?: string;
}

/** One thing that the facts say of what a fit has shown. */
export interface FitReason {
  /**
   * `explains`: this is why. `counts`: its MTU seems to count more than the packet. `contradicts`:
   * it says what is not so. `unread`: nobody reads it. `unknown`: what it passes is not known.
   */
  readonly kind: 'explains' | 'counts' | 'contradicts' | 'unread' | 'unknown';
  /** Ports, `node:port`, or nodes that it points at. */
  readonly at: readonly string[];
  readonly says: string;
  readonly remedy: string;
}
