import type { FitProof } from '../facts/proof.ts';
import type { PathProofs } from './path-proofs.ts';
import { dayOf } from './proof-in-force.ts';

/** What a fit has shown, with its day: `2026-11-24: 9000 bytes pass`. */
export function datedFitWords(proof: FitProof): string {
  return `${dayOf(proof)}: ${fitWords(proof)}`;
}

/** What a fit has shown: `9000 bytes pass`, `1500 bytes pass, 9000 do not`. */
export function fitWords({ provenMtuBytes: proven, lostBytes: lost, words }: FitProof): string {
  const passed = proven === undefined ? 'no packet came back' : `${proven} bytes pass`;
  const failed = lost === undefined ? '' : `, ${lost} do not`;
  return `${passed}${failed}${words === undefined ? '' : ` (${words})`}`;
}

/**
 * What fits have shown of the declared packet on a path of which the settings do not tell whether
 * it passes; empty where they have shown nothing of it. A proof overwrites no setting: it is of one
 * day and of the way in use, while a path has all its ways.
 */
export function settlesWords({ there, back }: PathProofs, bytes: number): string {
  const fits = [there, back].map(({ fit }) => ('proof' in fit ? fit.proof : undefined));
  const lost = fits.find((fit) => fit?.lostBytes !== undefined && fit.lostBytes <= bytes);
  if (lost !== undefined) {
    return `a fit of ${dayOf(lost)} lost ${lost.lostBytes} bytes from ${lost.from} to ${lost.to}`;
  }
  const passed = fits.filter((fit) => (fit?.provenMtuBytes ?? 0) >= bytes);
  const [first, second] = passed;
  if (first === undefined) return '';
  if (second === undefined) {
    return `a fit of ${dayOf(first)} passed ${bytes} bytes from ${first.from} to ${first.to}`;
  }
  return `a fit of ${dayOf(first)} passed ${bytes} bytes both ways: if no other way is there, mtuCounts can say so for good`;
}
