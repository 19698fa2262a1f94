import type { Gap } from '../facts/gap.ts';
import { reachesGoodput, tellingSecondsMin } from '../facts/newest-proofs.ts';
import type { FitProof, TransferProof } from '../facts/proof.ts';
import { breakOf } from './path-breaks.ts';
import type { DirectionProofs } from './path-proofs.ts';
import { dayOf } from './proof-in-force.ts';
import { datedFitWords } from './proof-words.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { SitePath } from './types.ts';

/** What a proof of a direction is held against. */
export interface ProvenWay {
  readonly path: SitePath;
  /** The end that sends. */
  readonly side: 'from' | 'to';
  readonly declaredBytes: number | undefined;
  readonly declaredMbps: number | undefined;
  /** MTU of the sender's own route; absent: it carries none, or it is not known. */
  readonly routeMtuBytes: number | undefined;
}

/** Enters what active tests have shown of a direction. */
export function putProofs(draft: Draft, proofs: DirectionProofs, way: ProvenWay): void {
  const { fit, transfer, fitAsked } = proofs;
  put(draft, 'fitAsked', fitAsked);
  put(draft, 'isProven', 'proof' in fit);
  put(draft, 'isMeasured', 'proof' in transfer);
  if ('proof' in fit) putFit(draft, fit, way);
  else {
    for (const name of ['provenMtuBytes', 'provenAgeHours']) put(draft, name, undefined, fit.gap);
    if (way.declaredBytes !== undefined) put(draft, 'declaredMtuPassed', undefined, fit.gap);
  }
  const measured = 'proof' in transfer ? transfer : undefined;
  const gap = 'gap' in transfer ? transfer.gap : undefined;
  putGoodput(draft, measured?.proof, { gap, declaredMbps: way.declaredMbps });
  put(draft, 'measuredAgeHours', measured?.ageHours, gap);
  put(draft, 'measuredOn', measured && dayOf(measured.proof));
}

function putGoodput(
  draft: Draft,
  proof: TransferProof | undefined,
  against: { readonly gap: Gap | undefined; readonly declaredMbps: number | undefined },
): void {
  const tells = proof === undefined || proof.tookSeconds >= tellingSecondsMin;
  const gap = tells ? against.gap : gapOf('doubtful', tooShortWords(proof));
  // Four figures: no transfer of some seconds tells more.
  const mbps = tells && proof ? Number(proof.goodputMbps.toPrecision(4)) : undefined;
  put(draft, 'measuredGoodputMbps', mbps, gap);
  const { declaredMbps } = against;
  if (declaredMbps === undefined) return;
  const reached = proof && reachesGoodput(proof, declaredMbps);
  put(draft, 'declaredGoodputReached', reached, gap);
}

function tooShortWords(proof: TransferProof): string {
  return `the transfer of ${dayOf(proof)} ended after ${proof.tookSeconds.toFixed(1)} s; measure again with a larger --at-most, or without one`;
}

function putFit(
  draft: Draft,
  { proof, ageHours }: { readonly proof: FitProof; readonly ageHours: number },
  way: ProvenWay,
): void {
  const says = datedFitWords(proof);
  put(draft, 'provenMtuBytes', proof.provenMtuBytes, gapOf('unreadable', says));
  put(draft, 'provenLostBytes', proof.lostBytes);
  put(draft, 'provenAgeHours', ageHours);
  put(draft, 'provenOn', dayOf(proof));
  put(draft, 'proofSays', says);
  const { declaredBytes } = way;
  if (declaredBytes !== undefined) {
    const unclear =
      proof.provenMtuBytes === undefined
        ? gapOf('unreadable', says)
        : gapOf('unasked', `${says}; ${declaredBytes} were not tried`);
    put(draft, 'declaredMtuPassed', passed(proof, declaredBytes), unclear);
  }
  const against = contradiction(proof, way);
  put(draft, 'proofAgrees', against === undefined);
  put(draft, 'proofAgainst', against);
}

/** Undefined: the proof says nothing of that size. */
function passed({ provenMtuBytes, lostBytes }: FitProof, bytes: number): boolean | undefined {
  if (provenMtuBytes !== undefined && provenMtuBytes >= bytes) return true;
  return lostBytes !== undefined && lostBytes <= bytes ? false : undefined;
}

/** What was read that cannot be so, if the proof is; undefined: nothing. */
function contradiction(proof: FitProof, way: ProvenWay): string | undefined {
  return lostAlthoughLarge(proof, way) ?? passedAlthoughSmall(proof, way);
}

function lostAlthoughLarge({ lostBytes }: FitProof, way: ProvenWay): string | undefined {
  const least = way.path.subject.facts['mtuAtLeastBytes'];
  if (lostBytes === undefined || typeof least !== 'number' || least < lostBytes) return undefined;
  // A route with an MTU of its own explains it: a rule of its own tells of that.
  if (way.routeMtuBytes !== undefined && way.routeMtuBytes < lostBytes) return undefined;
  return `every hop that is declared says that ${least} bytes pass, and ${lostBytes} do not`;
}

/** Only what no other way of the path goes around has been crossed for certain. */
function passedAlthoughSmall({ provenMtuBytes }: FitProof, way: ProvenWay): string | undefined {
  if (provenMtuBytes === undefined) return undefined;
  // An interface may well take in more than it sends, so that its own MTU says nothing of it there.
  const receiver = way.side === 'from' ? 'to' : 'from';
  const small = breakOf(way.path, ({ clearance: { atMostBytes }, position }) => {
    return position !== receiver && atMostBytes !== undefined && atMostBytes < provenMtuBytes;
  });
  if (small === undefined || small.spare) return undefined;
  return `${small.ports.join(', ')} cannot pass ${provenMtuBytes} bytes by what was read, and they do pass`;
}
