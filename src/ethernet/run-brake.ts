import type { RunLimit } from './run-mix.ts';

/**
 * What one aspect of a run holds its rate to, both in Mb/s. Rates of a run are the least over its
 * brakes, so a further piece can only lower them.
 */
export interface Brake extends RunLimit {
  /** Highest rate that this aspect leaves assured; 0 where it leaves none. */
  readonly assuredMbps: number;
  /** Highest rate that this aspect leaves possible; 0 where none, Infinity where it says nothing. */
  readonly possibleMbps: number;
}

/** A run of one medium, judged. */
export interface MediumReach {
  readonly brakes: readonly Brake[];
  readonly doubts: readonly string[];
  /** About the pieces, without bearing on the rates; absent: none. */
  readonly cautions?: readonly string[];
  /** Both ends send at this rate and no other; absent where they negotiate. */
  readonly fixedMbps?: number;
}

/** A brake that only takes away certainty. */
export function doubtful(pieceIndex: number, reason: string): Brake {
  return { pieceIndex, reason, assuredMbps: 0, possibleMbps: Number.POSITIVE_INFINITY };
}

/** `10 Gb/s`, `2.5 Gb/s`, `100 Mb/s`. */
export function rateWords(mbps: number): string {
  return mbps < 1000 ? `${mbps} Mb/s` : `${mbps / 1000} Gb/s`;
}
