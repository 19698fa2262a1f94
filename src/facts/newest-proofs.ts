import { byName } from './order.ts';
import type { ProofOfDirection, Proofs, TransferProof } from './proof.ts';
import type { Survey } from './survey.ts';

/** A proof counts for so long: what one day showed, a month may have changed (common practice). */
export const proofDaysMax = 30;

/**
 * A transfer that ended sooner, in seconds, as a small cap on its bytes ends it, is held against no
 * declared goodput: most of it was its start (common practice).
 */
export const tellingSecondsMin = 1;

/**
 * A transfer of a few seconds loses some of its rate while it starts (common practice): this share of
 * the declared goodput reaches it, so that a twentieth below accuses nobody.
 */
export const goodputShareMin = 0.95;

/** Whether a transfer reaches the goodput that is declared; undefined: it was too short to tell. */
export function reachesGoodput(
  { goodputMbps, tookSeconds }: Pick<TransferProof, 'goodputMbps' | 'tookSeconds'>,
  declaredMbps: number,
): boolean | undefined {
  if (tookSeconds < tellingSecondsMin) return undefined;
  return goodputMbps >= goodputShareMin * declaredMbps;
}

/**
 * The newest of each direction, in the order of names. Between two nodes there may be several ways,
 * each to an address of its own, so that the address counts as well. Of two of one time the later
 * in the list stays.
 */
export function newestProofs<P extends ProofOfDirection>(proofs: readonly P[]): readonly P[] {
  const newest = new Map<string, P>();
  for (const proof of proofs) {
    const known = newest.get(proofKey(proof));
    if (known === undefined || known.at <= proof.at) newest.set(proofKey(proof), proof);
  }
  return [...newest.values()].sort(
    (a, b) => byName(a.from, b.from) || byName(a.to, b.to) || byName(a.toAddress, b.toAddress),
  );
}

/** A survey that has these proofs beside its own, the newest of each direction. */
export function withProofs(survey: Survey, { fits, transfers }: Proofs): Survey {
  const allFits = newestProofs([...(survey.fits ?? []), ...fits]);
  const allTransfers = newestProofs([...(survey.transfers ?? []), ...transfers]);
  return {
    ...survey,
    ...(allFits.length === 0 ? {} : { fits: allFits }),
    ...(allTransfers.length === 0 ? {} : { transfers: allTransfers }),
  };
}

/** A survey without them: of a state in which none was run. */
export function withoutProofs({ fits: _, transfers: __, ...survey }: Survey): Survey {
  return survey;
}

function proofKey({ from, to, toAddress }: ProofOfDirection): string {
  return `${from}\n${to}\n${toAddress.toLowerCase()}`;
}
