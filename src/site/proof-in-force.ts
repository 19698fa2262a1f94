import type { Gap } from '../facts/gap.ts';
import { proofDaysMax } from '../facts/newest-proofs.ts';
import type { ProofOfDirection } from '../facts/proof.ts';
import { gapOf } from './provenance.ts';

const msPerHour = 3_600_000;
const hoursPerDay = 24;
/**
 * A test is run shortly after the reading it is kept with. What is later by more than a day comes
 * from a clock that was wrong, or tells of settings that this reading no longer knows.
 */
const laterHoursMax = 24;

/**
 * A proof that still counts, with its age when the survey ended, in whole hours; or why there is
 * none, undefined where none can be had.
 */
export type InForce<P extends ProofOfDirection> =
  | { readonly proof: P; readonly ageHours: number }
  | { readonly gap: Gap | undefined };

/** The direction that a proof is wanted of. */
export interface WantedProof {
  readonly from: string;
  readonly to: string;
  /** The address that the path goes to; absent: not known. */
  readonly toAddress: string | undefined;
  /** End of the survey, ISO 8601 UTC; ages count back from it, never from a clock. */
  readonly readAt: string;
  /** What is behind it where there is no proof in force. */
  readonly cause: string;
  /** `fit` or `transfer`. */
  readonly test: 'fit' | 'transfer';
  /** Why it cannot be run now; absent: it can. */
  readonly unread?: Gap | undefined;
  /** The sender is a node on which something can be run. */
  readonly canRun: boolean;
}

/** The proof of a direction that counts on the day of the survey. */
export function proofInForce<P extends ProofOfDirection>(
  proofs: readonly P[],
  wanted: WantedProof,
): InForce<P> {
  const { from, to, toAddress, cause } = wanted;
  const own = proofs
    .filter((proof) => proof.from === from && proof.to === to)
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const [newest] = own;
  if (newest === undefined) {
    const never = gapOf('unasked', `never run; run ${command(wanted)}`, cause);
    return { gap: wanted.canRun ? (wanted.unread ?? never) : undefined };
  }
  const doubt = (words: string) => ({ gap: gapOf('doubtful', words, cause) });
  const exact = own.find((proof) => isSame(proof.toAddress, toAddress));
  const addresses = new Set(own.map((proof) => proof.toAddress.toLowerCase()));
  if (toAddress === undefined && addresses.size > 1) {
    return doubt(
      `${from} was tried to several addresses of ${to}, and which one is used is not known`,
    );
  }
  if (toAddress !== undefined && exact === undefined) {
    return doubt(
      `${dayOf(newest)} packets went to ${newest.toAddress}, and the path goes to ${toAddress}; run ${command(wanted)}`,
    );
  }
  const proof = exact ?? newest;
  const ageHours = (Date.parse(wanted.readAt) - Date.parse(proof.at)) / msPerHour;
  const days = Math.floor(Math.abs(ageHours) / hoursPerDay);
  if (ageHours > proofDaysMax * hoursPerDay) {
    return doubt(`last run ${days} days before; run ${command(wanted)} again`);
  }
  if (ageHours < -laterHoursMax) {
    return doubt(
      `run ${days} days after this reading; see that the clock is right, and read again`,
    );
  }
  return { proof, ageHours: Math.max(0, Math.floor(ageHours)) };
}

/** The day of a proof, ISO 8601, UTC. */
export function dayOf({ at }: ProofOfDirection): string {
  return at.slice(0, 'YYYY-MM-DD'.length);
}

function isSame(address: string, wanted: string | undefined): boolean {
  return address.toLowerCase() === wanted?.toLowerCase();
}

function command({ test, from, to }: WantedProof): string {
  return `hopgauge ${test} ${from} ${to}`;
}
