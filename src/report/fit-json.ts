import { stableJson } from '../facts/json.ts';
import type { FitProof } from '../facts/proof.ts';
import type { FitPair } from './fit-text.ts';

/** Fits as JSON, with what is worth keeping of them. */
export function fitJson(
  pairs: readonly FitPair[],
  proofs: readonly FitProof[],
  { interrupted }: { readonly interrupted: boolean },
): string {
  return stableJson({ fit: 1, interrupted, pairs: pairs.map(pairOf), proofs });
}

function pairOf({ path, from, to, wantedBytes, directions, reasons }: FitPair) {
  return { path, from, to, wantedBytes, directions: directions.map(directionOf), reasons };
}

function directionOf({ outcome, ...direction }: FitPair['directions'][number]) {
  return outcome.ok
    ? { ...direction, own: outcome.fit.own, sizes: outcome.fit.sizes }
    : { ...direction, trouble: outcome.trouble };
}
