/** What a proof of either kind says of itself. */
export interface ProofOfDirection {
  /** Names of the nodes. */
  readonly from: string;
  readonly to: string;
  /** Literal IP address to which the packets went. */
  readonly toAddress: string;
  /** ISO 8601 UTC. */
  readonly at: string;
}

/** What don't-fragment packets have shown of one direction between two nodes, at one time. */
export interface FitProof extends ProofOfDirection {
  /** Largest IP packet that came back, in bytes. Absent: none did, or it cannot be told. */
  readonly provenMtuBytes?: number;
  /**
   * Smallest IP packet that is known not to pass, in bytes: refused on the way there, or lost there
   * or on the way back, which `words` then say. Absent: all that were tried passed, or it cannot be
   * told.
   */
  readonly lostBytes?: number;
  /** What the numbers do not say, above all why there is no `provenMtuBytes`, for the operator. */
  readonly words?: string;
}

/** What one bounded transfer has shown of one direction between two nodes, at one time. */
export interface TransferProof extends ProofOfDirection {
  /** How long it sent, in seconds. */
  readonly tookSeconds: number;
  /** TCP payload that arrived, in bytes. */
  readonly bytes: number;
  readonly streams: number;
  /** TCP payload per second that arrived, in Mb/s. */
  readonly goodputMbps: number;
}

/** What active tests have shown. */
export interface Proofs {
  readonly fits: readonly FitProof[];
  readonly transfers: readonly TransferProof[];
}
