import { stableJson } from '../facts/json.ts';
import type { TransferProof } from '../facts/proof.ts';
import { meetingWords } from './transfer-meeting.ts';
import type { TransferDirection, TransferResult } from './transfer-result.ts';

/** A transfer as JSON: equal results give equal bytes. */
export function transferJson(result: TransferResult, proofs: readonly TransferProof[]): string {
  const { path, declaredMbps, interrupted } = result;
  return stableJson({
    transfer: 1,
    ...{ path, declaredMbps, interrupted },
    directions: result.directions.map(directionOf),
    proofs,
  });
}

function directionOf(each: TransferDirection) {
  const way = { from: each.from, to: each.to, toAddress: each.toAddress };
  if (!each.ok) return { ...way, notDone: { seen: each.seen, remedy: each.remedy } };
  const { measured, reckoned } = each;
  const { from, to, missed, listener, ...figures } = measured;
  const { ceiling, metrics, limits, diagnosis, reachesDeclared } = reckoned;
  return {
    ...way,
    measured: {
      ...figures,
      listener: measured[listener].node,
      missed: missed.map((one) => meetingWords(one, { from: from.node, to: to.node })),
      ends: [from, to],
    },
    ceiling: ceiling && {
      rateMbps: ceiling.rateMbps,
      packetBytes: ceiling.packetBytes,
      goodputMbps: ceiling.goodputMbps,
    },
    ...{ metrics, limits, reachesDeclared },
    explanations: diagnosis.explanations.map(({ kind }) => kind),
  };
}
